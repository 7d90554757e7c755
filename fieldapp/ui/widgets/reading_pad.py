"""The large pad for one question: unit and limit in sight, and the way of reading named."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.number_pad import NumberPad
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.questions import OnPhoto, Question
from fieldapp.work.touches import AnyTouch
from schemas.bodies.round import Method

__all__ = ["Key", "NumberPad", "ReadingPad"]


class ReadingPad(Sheet):
    """Asks for a value. It goes away before `keep` is given the touch, or when it is left.

    A reading that a photo can give is measured there instead: `measure` is told which.

    The first way of reading is lit: it is the usual one, and no value.
    """

    offers_no_entry = False

    def __init__(
        self,
        question: Question,
        keep: Callable[[AnyTouch], None],
        measure: Callable[[OnPhoto], None] | None = None,
    ) -> None:
        super().__init__(place="full")
        digits = question.digits
        if digits is None:
            raise ValueError(f"{question.key} has no pad")
        self._digits, self._keep = digits, keep
        self._method: Method = digits.methods[0] if digits.methods else "tape"
        self._ask(question)
        self._ways = [self._way(method) for method in digits.methods]
        if digits.on_photo is not None and measure is not None:
            self._offer_photo(digits.on_photo, measure)

    def take(self, typed: str) -> None:
        """Go away, then hand over what was typed."""
        self.close()
        self._keep(self._digits.touch(Decimal(typed), self._method))

    def _offer_photo(self, way: OnPhoto, measure: Callable[[OnPhoto], None]) -> None:
        key = Key(title=_("On a photo"))
        key.bind(on_release=lambda *_args: self._leave_for(partial(measure, way)))
        self.add_widget(key)

    def _leave_for(self, act: Callable[[], None]) -> None:
        self.close()
        act()

    def _ask(self, question: Question) -> None:
        pad, digits = self.ids.pad, self._digits
        pad.question, pad.unit, pad.limit = question.ask, digits.unit, digits.limit
        pad.smallest, pad.largest = str(digits.least), str(digits.most)
        pad.decimals = digits.decimals

    def _way(self, method: Method) -> Key:
        key = Key(title=method, selected=method == self._method)
        key.bind(on_release=lambda *_args: self._read_by(method))
        self.add_widget(key)
        return key

    def _read_by(self, method: Method) -> None:
        self._method = method
        for key in self._ways:
            key.selected = key.title == method
