"""The shared folder: the exchange, what came of it, and what people settle."""
