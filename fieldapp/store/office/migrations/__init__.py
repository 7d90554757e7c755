"""The versions of an office's database, and the way from each to the next, on both engines.

History is linear. Only what was taken in is carried forward; what is worked out of it is made
anew (`fieldapp.store.office.projected`). A new version is a file in `versions`, and its name in
`NEWEST`.
"""

NEWEST = "o0002"
"""The version that this program works with; known without loading Alembic."""
VERSION_TABLE = "lastrow_version"
"""Where the database says of which version it is."""
