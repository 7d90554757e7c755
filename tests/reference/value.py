"""One published figure beside what the app computes: a row of the reference report."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

Basis = Literal["published", "from memory", "common practice", "own"]
"""Seen in its source; remembered; of the trade, no source; recomputed by a closed form."""
Figure = float | Decimal | str


@dataclass(frozen=True)
class Value:
    """A check: what a source says, what the app's own function gives, how near is near enough."""

    check: str
    source: str
    basis: Basis
    published: Figure
    unit: str
    within: float
    function: Callable[..., Any]
    ours_of: Callable[[], Figure]

    @property
    def ours(self) -> Figure:
        """What the app's function gives now."""
        return self.ours_of()

    def difference(self, ours: Figure) -> float | None:
        """Ours less theirs; None where they are words."""
        if isinstance(ours, str) or isinstance(self.published, str):
            return None
        return float(ours) - float(self.published)

    def agrees(self, ours: Figure) -> bool:
        """Whether both are the same, within what the source's own rounding allows."""
        difference = self.difference(ours)
        return ours == self.published if difference is None else abs(difference) <= self.within


def _same(result: Any) -> Figure:
    return result  # type: ignore[no-any-return]


@dataclass(frozen=True)
class Source:
    """Where figures come from, and how far that was seen."""

    words: str
    basis: Basis

    def says(
        self,
        check: str,
        published: Figure,
        unit: str,
        function: Callable[..., Any],
        *args: Any,
        within: float = 0.0,
        take: Callable[[Any], Any] = _same,
        **named: Any,
    ) -> Value:
        """State one figure of this source, and the call that must give it.

        `take` picks the figure out of what the function returns.
        """
        return Value(
            check,
            self.words,
            self.basis,
            published,
            unit,
            within,
            function,
            lambda: take(function(*args, **named)),
        )
