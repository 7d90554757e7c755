"""The screens: each is one .py and one .kv of the same name, listed here."""

from fieldapp.ui.paired import PairedScreen

SCREENS: tuple[type[PairedScreen], ...] = ()
"""In the order of the menu."""
