"""The words on the screens, in the language of whoever reads them.

`_` marks a text for the catalogue and looks it up when it is shown. English stands in the
program itself, so it needs no catalogue.
"""

import gettext
from pathlib import Path

from assets import TRANSLATIONS

DOMAIN = "lastrow"


class _Tongue:
    """The language in use: one tablet speaks one at a time."""

    words: gettext.NullTranslations = gettext.NullTranslations()


def speak(language: str, folder: Path = TRANSLATIONS) -> None:
    """Take another language from now on; English where there is no catalogue of it."""
    _Tongue.words = gettext.translation(DOMAIN, folder, [language], fallback=True)


def _(text: str) -> str:
    """Give a text in the language that is spoken."""
    return _Tongue.words.gettext(text) if text else text


def counted(one: str, several: str, number: int) -> str:
    """Give the form of a text that fits a number, with the number in its place."""
    return _Tongue.words.ngettext(one, several, number).format(number)
