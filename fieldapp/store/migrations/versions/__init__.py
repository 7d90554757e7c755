"""One file a version, named for it."""
