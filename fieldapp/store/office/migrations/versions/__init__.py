"""One file a version, named for its place in the row."""
