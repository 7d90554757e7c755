"""The password of a shared folder's server, asked for over the whole glass."""

from collections.abc import Callable
from typing import Final

from kivy.properties import AliasProperty, BooleanProperty, NumericProperty, StringProperty

from fieldapp.ui.long_paths import path_words
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words

__all__ = ["Chip", "Key", "LetterKey", "PasswordPanel", "Words"]

PAGES: Final = (
    ("abc", "abcdefghijklmnopqrstuvwxyz- "),
    ("ABC", "ABCDEFGHIJKLMNOPQRSTUVWXYZ_."),
    ("123", "0123456789!?@#$%&*+=/:;,.-_ "),
    ("<>|", "\"'`()[]{}<>\\^~|"),
)
"""What can be typed: each page with the name of the key that leads to it."""
ON_A_PAGE: Final = max(len(letters) for _name, letters in PAGES)
LONGEST: Final = 127
"""Windows takes no longer password from a person."""
IN_SIGHT: Final = 24


class LetterKey(Chip):
    """One letter; empty where a page has fewer than others."""

    letter = StringProperty()
    space = StringProperty(_("space"))


class PasswordPanel(Sheet):
    """Asks for a password. It goes away before `then` is told, or when it is left.

    What is typed is shown as dots unless somebody wants to see it, and forgotten on the way out.
    """

    typed = StringProperty()
    page = NumericProperty(0)
    seen = BooleanProperty(False)

    def _shown(self) -> str:
        in_sight = self.typed[-IN_SIGHT:]
        return in_sight if self.seen else "•" * len(in_sight)

    shown = AliasProperty(_shown, bind=["typed", "seen"])

    def _turns_to(self) -> str:
        return PAGES[(self.page + 1) % len(PAGES)][0]

    turns_to = AliasProperty(_turns_to, bind=["page"])

    def __init__(self, place: str, then: Callable[[str], None]) -> None:
        super().__init__(
            place="full",
            title=_("Password of the shared folder"),
            note=path_words(place).replace("\n", ""),
        )
        self._then = then
        for _number in range(ON_A_PAGE):
            self.ids.letters.add_widget(self._letter_key())
        self._show_page()

    def press(self, letter: str) -> None:
        """Take one letter."""
        self.typed = (self.typed + letter)[:LONGEST]

    def erase(self) -> None:
        """Take the last letter away."""
        self.typed = self.typed[:-1]

    def show_or_hide(self) -> None:
        """Let what is typed be seen, or be dots again."""
        self.seen = not self.seen

    def turn(self) -> None:
        """Go to the next page of letters."""
        self.page = (self.page + 1) % len(PAGES)
        self._show_page()

    def enter(self) -> None:
        """Go away, then hand over what was typed."""
        typed = self.typed
        self.close()
        self._then(typed)

    def close(self) -> None:
        """Forget what was typed, and go away."""
        self.typed = ""
        super().close()

    def _letter_key(self) -> LetterKey:
        key = LetterKey()
        key.bind(on_release=lambda key: self.press(key.letter))
        return key

    def _show_page(self) -> None:
        letters = PAGES[self.page][1].ljust(ON_A_PAGE, "\0")
        for key, letter in zip(reversed(self.ids.letters.children), letters, strict=True):
            key.letter = letter.strip("\0")
