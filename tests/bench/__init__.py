"""Ratios to the bare library in the same run: printed, never asserted."""
