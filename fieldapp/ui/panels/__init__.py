"""What the shell lays over any screen: troubles, pads, the two touches of *no entry*."""
