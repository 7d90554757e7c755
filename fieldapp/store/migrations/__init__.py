"""The database's versions, and the way from each to the next.

History is linear and never squashed: a tablet may have lain in a drawer for years. A new
version is a file in `versions`, and its name in `NEWEST`.
"""

NEWEST = "r0008"
"""The version that this program works with; known without loading Alembic."""
