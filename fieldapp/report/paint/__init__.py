"""Painters: one for each kind of picture, each with any pen."""
