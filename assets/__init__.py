"""Files that ship with the app: fonts, sounds, the demo mine."""

from pathlib import Path

FONTS = Path(__file__).parent / "fonts"
TRANSLATIONS = Path(__file__).parent / "translations"
