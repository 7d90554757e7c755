"""The words on the screens, in the language of whoever reads them: one door for looks and code."""

from assets.translate import _, counted, speak

__all__ = ["_", "counted", "speak"]
