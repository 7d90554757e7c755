"""Files that ship with the app: fonts, sounds, the demo mine."""
