"""The checks of the whole house. `python3 -m tests` runs them."""
