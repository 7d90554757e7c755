"""The pad for a short id: the characters that stand on labels, and no others."""

from typing import Any

from kivy.properties import AliasProperty, BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.words import Words
from schemas.check_character import DIGITS
from schemas.short_id import LENGTH

__all__ = ["IdPad", "Key", "Words"]

NOT_YET = "_"
GROUPS = (slice(0, 4), slice(4, LENGTH), slice(LENGTH, LENGTH + 1))


class IdPad(PairedWidget, BoxLayout):
    """Eight characters and the one that checks them; `on_entered` is told at the last of them.

    What was typed stays, so that one character of it can be put right.
    """

    typed = StringProperty()
    columns = NumericProperty(8)
    full = BooleanProperty(False)

    __events__ = ("on_entered",)

    def _shown(self) -> str:
        padded = self.typed.ljust(LENGTH + 1, NOT_YET)
        return " – ".join(" ".join(padded[group]) for group in GROUPS)

    shown = AliasProperty(_shown, bind=["typed"])

    def on_kv_post(self, _base: object) -> None:
        for digit in DIGITS:
            self.ids.digits.add_widget(self._key(digit))

    def press(self, digit: str) -> None:
        """Take one character."""
        if self.full:
            return
        self.typed += digit
        if self.full:
            self.dispatch("on_entered", self.typed)

    def erase(self) -> None:
        """Take the last character away."""
        self.typed = self.typed[:-1]

    def on_typed(self, _pad: object, typed: str) -> None:
        self.full = len(typed) > LENGTH

    def on_entered(self, typed: str) -> None:
        """Told all nine characters."""

    def _key(self, digit: str) -> Key:
        key: Any = Key(title=digit, title_size=theme.CHIP_TEXT)
        key.bind(on_release=lambda _key: self.press(digit))
        return key
