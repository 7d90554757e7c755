"""Words that a person reads, ready for other languages: gettext catalogues in `assets`."""

import gettext
from pathlib import Path

import assets

CATALOGUES = Path(assets.__file__).parent / "translations"

_catalogue = gettext.translation("lastrow", localedir=CATALOGUES, fallback=True)


def _(words: str) -> str:
    """Give the words in the language of this tablet, English where there is none."""
    return _catalogue.gettext(words)
