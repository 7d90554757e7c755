"""The app's own pad for numbers and sign codes; the system's keyboard never opens."""

from decimal import Decimal

from kivy.properties import (
    AliasProperty,
    BooleanProperty,
    NumericProperty,
    OptionProperty,
    StringProperty,
)
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.typed_number import TypedNumber
from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.words import Words

__all__ = ["Chip", "Key", "NumberPad", "Words"]

LEAST_CODE_DIGITS = 4


class NumberPad(PairedWidget, BoxLayout):
    """A pad with the question, the unit and the limit in sight. It starts empty.

    Fires `on_entered` with the number as text (or the code), `on_leave` when it is left
    without one. `smallest` and `largest` bound what can be a reading at all; whether it meets
    the standard is not the pad's to say.
    """

    mode = OptionProperty("number", options=["number", "code"])
    question = StringProperty()
    unit = StringProperty()
    limit = StringProperty()
    smallest = StringProperty()
    largest = StringProperty()
    decimals = NumericProperty(2)
    signed = BooleanProperty(False)
    done = StringProperty()
    way_out = StringProperty()
    typed = StringProperty()
    wide = BooleanProperty(True)

    __events__ = ("on_entered", "on_leave")

    def _is_code(self) -> bool:
        return self.mode == "code"

    is_code = AliasProperty(_is_code, bind=["mode"])

    def _refusal(self) -> str:
        value = self._number.value
        if self.is_code or value is None:
            return ""
        if self.smallest and value < Decimal(self.smallest):
            return self._refused(_("Not below {value} {unit}."), self.smallest)
        if self.largest and value > Decimal(self.largest):
            return self._refused(_("Not above {value} {unit}."), self.largest)
        return ""

    def _refused(self, sentence: str, value: str) -> str:
        return sentence.format(value=value, unit=_(self.unit))

    refusal = AliasProperty(_refusal, bind=["typed", "mode", "smallest", "largest", "unit"])

    def _ready(self) -> bool:
        if self.is_code:
            return len(self.typed) >= LEAST_CODE_DIGITS
        return self._number.value is not None and not self.refusal

    ready = AliasProperty(_ready, bind=["typed", "mode", "smallest", "largest"])

    def _shown(self) -> str:
        return "•" * len(self.typed) if self.is_code else self.typed.replace("-", "−")

    shown = AliasProperty(_shown, bind=["typed", "mode"])

    def press(self, key: str) -> None:
        """Take one touch of a digit, "." or "±"."""
        number = self._number
        if key == ".":
            number = number.with_point()
        elif key == "±":
            number = number.turned()
        else:
            number = number.with_digit(key)
        self.typed = number.text

    def erase(self) -> None:
        """Take the last touch away."""
        self.typed = self._number.erased().text

    def enter(self) -> None:
        """Hand over what was typed, and be empty again."""
        entered = self.typed if self.is_code else str(self._number.value)
        self.typed = ""
        self.dispatch("on_entered", entered)

    def on_entered(self, text: str) -> None:
        """Told what was typed."""

    def on_leave(self) -> None:
        """Told that the pad was left."""

    @property
    def _number(self) -> TypedNumber:
        if self.is_code:
            return _TypedCode(self.typed, decimals=0, most_digits=12)
        return TypedNumber(self.typed, decimals=int(self.decimals))


class _TypedCode(TypedNumber):
    """A code keeps its leading zeros."""

    def with_digit(self, digit: str) -> TypedNumber:
        """Put a digit at the end."""
        full = len(self.text) >= self.most_digits
        return self if full else _TypedCode(self.text + digit, 0, self.most_digits)
