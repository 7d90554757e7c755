"""The round sheet: one round on one page, for the wall, the file and the next shift."""
