"""Photographs: taking them in, keeping them, measuring on them, reading codes."""
