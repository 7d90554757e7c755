"""A note on the section at hand of a walk: a phrase is picked, or typed in letters."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final

from fieldapp.ui.panels.letters_panel import LettersPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet

PHRASES: Final = (
    _("poor light"),
    _("services in the way"),
    _("water on the floor"),
    _("signs missing"),
    _("bar down here"),
)
LONGEST: Final = 120
"""Letters that a glove types."""
LONGEST_IN_ALL: Final = 400


def ask_note(where: str, before: str, say: Callable[[dict[str, Any]], None]) -> None:
    """Ask for a note; what was noted of the section before stands in front of it."""

    def noted(words: str) -> None:
        told = "; ".join(filter(None, (before, words.strip())))
        say({"note": told[:LONGEST_IN_ALL]})

    sheet = KeySheet(_("Note"), "; ".join(filter(None, (where, before))))
    for phrase in PHRASES:
        sheet.offer(phrase, partial(noted, phrase))
    letters = partial(LettersPanel, _("Note"), noted, longest=LONGEST)
    sheet.offer(_("In letters"), lambda: letters().open(), _("in your own words"))
    sheet.open()
