"""What a photograph of a plane tells: lengths and areas, and how sure they are."""
