"""The unrolled drive of one round as plain shapes: what was seen, and what was found."""
