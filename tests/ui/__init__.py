"""The screens, touched by hand on a real window."""
