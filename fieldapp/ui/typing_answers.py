"""An answer that stands on no chip: a number on the large pad, or a person's own words."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any, Final

from fieldapp.ui.panels.letters_panel import LettersPanel
from fieldapp.ui.shell import Shell
from fieldapp.ui.translate import _
from fieldapp.work.asked import Asked, Letters
from schemas.numbers import text

DECIMALS: Final = 2
TOUCHED_TO: Final = Decimal("0.1")
"""A glove on the map hits no nearer, in metres."""


def ask_other(shell: Shell, question: Asked, say: Callable[[dict[str, Any]], None]) -> None:
    """Ask for it, where the question knows such an answer."""
    digits = question.digits
    if isinstance(digits, Letters):
        LettersPanel(
            _(question.ask), lambda typed: say(digits.says(typed)), longest=digits.longest
        ).open()
    elif digits is not None:
        shell.ask_number(
            _(question.ask),
            lambda typed: say(digits.says(Decimal(typed))),
            unit=digits.unit,
            limit=_(digits.limit),
            largest=digits.largest,
            smallest=digits.smallest,
            decimals=0 if digits.whole else DECIMALS,
        )


def touched_at(value_m: float) -> str:
    """Write a place that was touched on the drive."""
    return text(Decimal(str(value_m)).quantize(TOUCHED_TO) + 0)
