"""The password of a shared folder's server, asked for over the whole glass."""

from collections.abc import Callable
from typing import Final

from kivy.properties import AliasProperty, BooleanProperty, StringProperty

from fieldapp.ui.long_paths import path_words
from fieldapp.ui.panels.letters_panel import IN_SIGHT, LettersPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key

__all__ = ["Key", "PasswordPanel"]

LONGEST: Final = 127
"""Windows takes no longer password from a person."""


class PasswordPanel(LettersPanel):
    """Asks for a password. It goes away before `then` is told, or when it is left.

    What is typed is shown as dots unless somebody wants to see it, and forgotten on the way out.
    """

    seen = BooleanProperty(False)
    hide_title = StringProperty()

    def _shown(self) -> str:
        in_sight = str(self.typed[-IN_SIGHT:])
        return in_sight if self.seen else "•" * len(in_sight)

    shown = AliasProperty(_shown, bind=["typed", "seen"])

    def __init__(self, place: str, then: Callable[[str], None]) -> None:
        super().__init__(
            _("Password of the shared folder"),
            then,
            longest=LONGEST,
            note=path_words(place).replace("\n", ""),
        )
        hide = Key(title=self.hide_title, on_release=lambda *_args: self.show_or_hide())
        self.bind(hide_title=hide.setter("title"))
        self.ids.row_of_keys.add_widget(hide, index=1)

    def show_or_hide(self) -> None:
        """Let what is typed be seen, or be dots again."""
        self.seen = not self.seen

    def close(self) -> None:
        """Forget what was typed, and go away."""
        self.typed = ""
        super().close()
