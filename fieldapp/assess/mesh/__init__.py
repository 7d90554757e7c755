"""Mesh as sheets placed on the unrolled rock: what they cover, how they lap, what they hold."""
