"""Panels that ask for one answer or tell one thing: keys, a code, a trouble."""

from collections.abc import Callable

from kivy.properties import BooleanProperty

from fieldapp.ui import theme
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.bounce import AFTER_A_CODE_S, bounce
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.message_panel import MessagePanel
from fieldapp.ui.widgets.number_pad import NumberPad
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from schemas.trouble import Trouble

__all__ = ["CodeSheet", "Key", "KeyRow", "KeySheet", "TroubleSheet"]


class KeySheet(Sheet):
    """A panel of keys: each does one thing and closes it; Return does nothing."""

    holds_sentences = BooleanProperty(False)
    """Whether keys are as wide as a sentence needs, not as a thumb does."""

    def __init__(self, title: str, note: str = "", *, holds_sentences: bool = False) -> None:
        super().__init__(title=title, note=note, holds_sentences=holds_sentences)
        self.add_widget(Key(title=_("Return"), tall=True, on_release=lambda *_a: self.close()))

    def offer(
        self, label: str, act: Callable[[], None], second: str = "", role: str = "ordinary"
    ) -> Key:
        """Add a key that closes the panel and acts, and give it."""
        key = Key(title=label, second=second, tall=True, role=role)
        key.bind(on_release=lambda *_args: self._act(act))
        self.ids.offered.add_widget(key)
        return key

    def _act(self, act: Callable[[], None]) -> None:
        self.close()
        act()


class TroubleSheet(Sheet):
    """A trouble's three sentences, and the way on."""

    def __init__(
        self, trouble: Trouble, again: Callable[[], None] | None = None, act: str = ""
    ) -> None:
        super().__init__()
        panel = MessagePanel()
        panel.tell(trouble)
        self.add_widget(panel)
        if again is not None:
            self.add_widget(
                Key(title=act or _("Confirm"), tall=True, on_release=lambda *_a: self._go(again))
            )
        self.add_widget(
            Key(title=_("Understood"), tall=True, role="main", on_release=lambda *_a: self.close())
        )

    def _go(self, again: Callable[[], None]) -> None:
        self.close()
        again()


class CodeSheet(Sheet):
    """The large pad for a sign code. What is typed is shown as dots, and taken at *Done*.

    Where it is known how many digits a code has, it is taken at the last of them.
    """

    offers_no_entry = False

    def __init__(
        self,
        question: str,
        then: Callable[[str], None],
        demo_codes: tuple[tuple[str, str], ...] = (),
        digits: int = 0,
    ) -> None:
        super().__init__(place="full")
        self._then, self._digits = then, digits
        if demo_codes:
            listed = " · ".join(f"{name} {code}" for name, code in demo_codes)
            words = Words(text=_("Demo codes: {codes}").format(codes=listed), lines=3)
            words.asked, words.tallest = theme.SMALL_TEXT, theme.mm(17)
            words.padding = (theme.mm(4), 0, theme.mm(4), 0)
            self.add_widget(words)
        pad = NumberPad(mode="code", question=question)
        pad.bind(on_entered=self._entered, on_leave=lambda *_args: self.close())
        pad.bind(typed=self._typed)
        self.add_widget(pad)

    def _typed(self, pad: object, typed: str) -> None:
        if self._digits and len(typed) == self._digits:
            self._entered(pad, typed)
            bounce.begin(AFTER_A_CODE_S)

    def _entered(self, _pad: object, typed: str) -> None:
        self.close()
        self._then(typed)
