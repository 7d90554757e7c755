"""Condition walks: what is due, what one outing sees, and what is known of a section."""
