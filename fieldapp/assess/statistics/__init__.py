"""What a few readings tell: intervals, limits, slopes and characteristic values."""
