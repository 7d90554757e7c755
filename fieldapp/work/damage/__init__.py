"""Damage to support that stands: stating it, asking about it, putting a record right."""
