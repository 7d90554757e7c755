"""The question that is asked now, with an answer on each chip."""

from collections.abc import Sequence
from math import ceil
from typing import Any, Protocol

from kivy.clock import Clock
from kivy.properties import NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.bounce import Bounce
from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words, extent

__all__ = ["Chip", "Key", "QuestionPanel", "Words"]

CHIP_LEAST_MM = 16.5
LONG_LEAST_MM = 34.0
VALUE_TEXT = ceil(theme.CHIP_TEXT * 0.8)
BESIDE_TEXT = 2 * theme.mm(1.5) + 4
MOST_LINES_OF_CHIPS = 2
MOST_KEYS = 6
"""More keys than that are shown page by page: the findings stay in sight."""


class Labelled(Protocol):
    """One answer, as it stands on a chip."""

    @property
    def label(self) -> str:
        """The answer."""

    @property
    def note(self) -> str:
        """Its unit, or what it means."""


class Typed(Protocol):
    """An answer that is typed."""

    @property
    def unit(self) -> str:
        """In which it is typed."""

    @property
    def words(self) -> str:
        """What stands on the key that leads to it."""


class Asked(Protocol):
    """What is asked: of a round, or of damage."""

    @property
    def key(self) -> str:
        """Tells it from every other."""

    @property
    def ask(self) -> str:
        """The question."""

    @property
    def hint(self) -> str:
        """Where to stand and what to look at."""

    @property
    def choices(self) -> Sequence[Labelled]:
        """The answers; none is chosen."""

    @property
    def digits(self) -> Typed | None:
        """How another value is typed."""


Answer = Labelled | None
"""None: another value, typed on the pad."""


class QuestionPanel(PairedWidget, BoxLayout):
    """Asks. Fires `on_choice` with what was chosen, or `on_other` when the pad is wanted.

    Nothing is chosen beforehand, and an answer that is being touched is never taken away from
    under the finger: the same question shown again keeps its chips.
    """

    ask = StringProperty()
    hint = StringProperty()
    question: Asked | None = ObjectProperty(None, allownone=True)
    columns = NumericProperty(1)
    answer_height = NumericProperty(theme.MAIN_HEIGHT)

    __events__ = ("on_choice", "on_other")

    def __init__(self, **kwargs: object) -> None:
        self._bounce = Bounce()
        self._labels: tuple[object, ...] = ()
        self._answers: list[Answer] = []
        self._first, self._paged = 0, False
        self._lay_out = Clock.create_trigger(self._lay_out_now, -1)
        super().__init__(**kwargs)
        self.fbind("width", self._lay_out)

    def show(self, question: Asked | None, ask: str = "", hint: str = "") -> None:
        """Ask this; `ask` and `hint` are said where nothing is left to ask."""
        self.question = question
        self.ask = _(question.ask) if question else ask
        self.hint = _(question.hint) if question else hint
        self._answers = [*question.choices] if question else []
        if question is not None and question.digits is not None:
            self._answers.append(None)
        labels = (question.key if question else "", *map(self._label, self._answers))
        if labels != self._labels:
            self._labels, self._first = labels, 0
            self._bounce.begin()
            self._lay_out_now()

    def on_choice(self, choice: Labelled) -> None:
        """Told which answer was touched."""

    def on_other(self, question: Asked) -> None:
        """Told that the answer is to be typed."""

    def _label(self, answer: Answer) -> tuple[str, str]:
        if answer is not None:
            return _(answer.label), _(answer.note)
        digits = self.question.digits if self.question else None
        return (_(digits.words), _(digits.unit)) if digits else ("", "")

    def _lay_out_now(self, *_args: object) -> None:
        """Put up the answers: on chips, or on keys with two lines where words are long."""
        labels = [self._label(answer) for answer in self._answers]
        least = max([theme.mm(CHIP_LEAST_MM), *(_wide(*label) for label in labels)])
        kind: type[Touchable] = Chip
        self._paged = False
        if self._lines(least, len(labels)) > MOST_LINES_OF_CHIPS:
            kind, least = Key, theme.mm(LONG_LEAST_MM)
            labels = self._page(labels)
        lines = self._lines(least, len(labels))
        self.columns = -(-len(labels) // lines)
        self.answer_height = theme.MAIN_HEIGHT if lines == 1 else theme.mm(16)
        self.ids.answers.clear_widgets()
        for number, label in enumerate(labels, start=self._first):
            self.ids.answers.add_widget(self._made(kind, number, label))

    def _page(self, labels: list[tuple[str, str]]) -> list[tuple[str, str]]:
        """Give what stands on the keys now; the last of them turns the page where one is left."""
        self._paged = len(labels) > MOST_KEYS
        return [*labels[self._first : self._next], (_("More…"), "")] if self._paged else labels

    @property
    def _next(self) -> int:
        """The first answer of the next page."""
        return min(self._first + MOST_KEYS - 1, len(self._answers))

    def _turn(self) -> None:
        self._first = self._next % len(self._answers)
        self._bounce.begin()
        self._lay_out_now()

    def _lines(self, least: float, answers: int) -> int:
        beside = max(1, int((self.width + theme.GAP) // (least + theme.GAP)))
        return max(1, -(-answers // beside))

    def _made(self, kind: type[Touchable], number: int, label: tuple[str, str]) -> Touchable:
        first, second = label
        made = (
            Chip(value=first, unit=second)
            if kind is Chip
            else Key(title=first, second=second, tall=True)
        )
        made.size_hint_y = 1
        made.bind(on_release=lambda *_args: self._touched(number))
        return made

    def _touched(self, number: int) -> None:
        if self._bounce.is_on:
            return
        if self._paged and number == self._next:
            self._turn()
            return
        answer = self._answers[number]
        if answer is None:
            self.dispatch("on_other", self.question)
        else:
            self.dispatch("on_choice", answer)


def _wide(first: str, second: str) -> float:
    lines: Sequence[tuple[str, bool, Any]] = (
        (first, True, VALUE_TEXT),
        (second, False, theme.SMALL_TEXT),
    )
    widths = [extent(text, (theme.font_for(text), bold), size)[0] for text, bold, size in lines]
    return max(widths) + BESIDE_TEXT
