"""Placing sheets of mesh on the unrolled drive by touch."""
