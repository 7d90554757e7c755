"""The answers of one question with the words that the standard has for them, on large keys."""

from collections.abc import Callable
from typing import Any

from kivy.properties import ListProperty, ObjectProperty

from fieldapp.ui.translate import _
from fieldapp.ui.widgets.grade_card import GradeCard
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.asked import Asked, Choice

__all__ = ["CardsPanel", "GradeCard", "Key", "PagedGrid"]


class CardsPanel(Sheet):
    """Asks which card fits; it goes away before `then` is told which."""

    cards = ListProperty()
    make_key: Any = ObjectProperty(None, allownone=True)

    def __init__(self, question: Asked, then: Callable[[Choice], None]) -> None:
        note = _(question.hint)
        super().__init__(place="full", title=_(question.ask), note=note, make_key=self._key)
        self._then = then
        self.cards = [it for it in question.choices if it.says]

    def take(self, choice: Choice) -> None:
        """Go away, then hand over the card that was touched."""
        self.close()
        self._then(choice)

    def _key(self, choice: Choice) -> GradeCard:
        words = f"{_(choice.label)}: {_(choice.words)}" if choice.words else _(choice.note)
        card = GradeCard(title=words, picture=choice.picture)
        card.bind(on_release=lambda _card: self.take(choice))
        return card
