"""How the unrolled drive comes onto the glass: the view on it, its strokes, what a finger meant.

Only `atlas` and `letters` know Kivy; the rest is arithmetic that is tested without a window.
"""
