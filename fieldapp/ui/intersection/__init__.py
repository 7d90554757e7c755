"""Intersections on the tablet: what is shown of one, marking its support, stating a new one."""
