"""Letting tablets and people in, and keeping the site's records of trust."""
