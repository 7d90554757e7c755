"""Letters under a glove, over the whole glass: the system's keyboard never opens.

At a desk, where words are longer, the keyboard that stands there types as well.
"""

from collections.abc import Callable
from typing import Any, Final

from kivy.properties import AliasProperty, NumericProperty, StringProperty

from fieldapp.ui.translate import _
from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words

__all__ = ["Chip", "Key", "LetterKey", "LettersPanel", "TypingPanel", "Words"]

PAGES: Final = (
    ("abc", "abcdefghijklmnopqrstuvwxyz- "),
    ("ABC", "ABCDEFGHIJKLMNOPQRSTUVWXYZ_."),
    ("123", "0123456789!?@#$%&*+=/:;,.-_ "),
    ("<>|", "\"'`()[]{}<>\\^~|"),
)
"""What can be typed: each page with the name of the key that leads to it."""
ON_A_PAGE: Final = max(len(letters) for _name, letters in PAGES)
IN_SIGHT: Final = 24
BACKSPACE: Final = 8
ENTER: Final = (13, 271)
ESCAPE: Final = 27


class LetterKey(Chip):
    """One letter; empty where a page has fewer than others."""

    letter = StringProperty()
    space = StringProperty(_("space"))


class LettersPanel(Sheet):
    """Asks for a few words. It goes away before `then` is told, or when it is left."""

    typed = StringProperty()
    page = NumericProperty(0)
    done_title = StringProperty(_("Write it"))

    def _shown(self) -> str:
        return str(self.typed[-IN_SIGHT:])

    shown = AliasProperty(_shown, bind=["typed"])

    def _turns_to(self) -> str:
        return PAGES[(self.page + 1) % len(PAGES)][0]

    turns_to = AliasProperty(_turns_to, bind=["page"])

    def __init__(
        self, title: str, then: Callable[[str], None], *, longest: int, **kwargs: Any
    ) -> None:
        super().__init__(place="full", title=title, **kwargs)
        self._then, self._longest = then, longest
        for _number in range(ON_A_PAGE):
            self.ids.letters.add_widget(self._letter_key())
        self._show_page()

    def press(self, letter: str) -> None:
        """Take one letter."""
        self.typed = (self.typed + letter)[: self._longest]

    def erase(self) -> None:
        """Take the last letter away."""
        self.typed = self.typed[:-1]

    def turn(self) -> None:
        """Go to the next page of letters."""
        self.page = (self.page + 1) % len(PAGES)
        self._show_page()

    def enter(self) -> None:
        """Go away, then hand over what was typed."""
        typed = self.typed
        self.close()
        self._then(typed)

    def _letter_key(self) -> LetterKey:
        key = LetterKey()
        key.bind(on_release=lambda key: self.press(key.letter))
        return key

    def _show_page(self) -> None:
        letters = PAGES[self.page][1].ljust(ON_A_PAGE, "\0")
        for key, letter in zip(reversed(self.ids.letters.children), letters, strict=True):
            key.letter = letter.strip("\0")


class TypingPanel(LettersPanel):
    """The panel of letters, which takes what is typed on a keyboard as well."""

    def __init__(
        self, title: str, then: Callable[[str], None], *, longest: int, **kwargs: Any
    ) -> None:
        super().__init__(title, then, longest=longest, **kwargs)
        self._keyboard: Any = None

    def open(self) -> None:
        """Lay the panel over everything, and listen to the keyboard."""
        from kivy.core.window import Window  # imported here: it opens the window

        super().open()
        self._keyboard = Window.request_keyboard(self._unheard, self, "text")
        self._keyboard.bind(on_key_down=self._key_down, on_textinput=self._text)

    def close(self) -> None:
        """Leave the keyboard alone, and go."""
        if self._keyboard is not None:
            self._keyboard.release()
        super().close()

    def _unheard(self) -> None:
        self._keyboard = None

    def _text(self, _keyboard: object, letters: str) -> None:
        self.press(letters)

    def _key_down(self, _keyboard: object, key: tuple[int, str], *_more: object) -> bool:
        code, _name = key
        if code == BACKSPACE:
            self.erase()
        elif code in ENTER and self.typed:
            self.enter()
        elif code == ESCAPE:
            self.close()
        return True
