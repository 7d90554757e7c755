"""Every question of a round that was answered, to be answered again."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.properties import ListProperty, ObjectProperty

from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.questions import Question

__all__ = ["Key", "PagedGrid", "QuestionsPanel"]


class QuestionsPanel(Sheet):
    """Asks which of several questions is meant; it goes away before `then` is told which."""

    questions = ListProperty()
    make_key: Any = ObjectProperty(None, allownone=True)

    def __init__(
        self, title: str, questions: Sequence[Question], then: Callable[[Question], None]
    ) -> None:
        super().__init__(place="full", title=title, make_key=self._key)
        self._then = then
        self.questions = questions

    def take(self, question: Question) -> None:
        """Go away, then hand over the question that was touched."""
        self.close()
        self._then(question)

    def _key(self, question: Question) -> Key:
        key = Key(title=question.ask, tall=True)
        key.bind(on_release=lambda _key: self.take(question))
        return key
