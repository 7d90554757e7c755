"""A share and tablets in memory: the model that the real ones are held to."""
