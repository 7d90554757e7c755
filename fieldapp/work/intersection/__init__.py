"""Intersections: stating one, its cables over days, what was seen of it, and what it means."""
