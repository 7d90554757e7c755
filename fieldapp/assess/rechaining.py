"""Where a chainage that was read once lies today, after chainages were measured anew."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import groupby

from schemas.bodies.heading import Rechained


@dataclass(frozen=True)
class Chaining:
    """By which of a heading's chainages something was stated, and what was measured anew since."""

    rechained: tuple[Rechained, ...] = ()
    """All of the heading's, the oldest first."""
    since: datetime | None = None
    """Those up to then are in what was read; None: none is."""
    doubted_to: datetime | None = None
    """Whoever read after one of them may have read old marks or new ones: up to then it isn't
    known which of the two was read. None: no doubt."""

    @property
    def moves(self) -> bool:
        """Whether any came later than what was read."""
        return bool(self._later(None))

    @property
    def doubt_m(self) -> Decimal:
        """How far inbye of where it is taken to lie a place may be at most."""
        doubted = (it for at_once in self._later(None) for it in at_once if self._is_doubted(it))
        return sum((abs(it.by_m) for it in doubted), Decimal(0))

    def today_m(self, read_m: Decimal, until: datetime | None = None) -> Decimal:
        """Give where a place lies today, or lay once all of those up to a time were measured.

        Parameters
        ----------
        read_m : Decimal
            As it was read. [m]
        until : datetime or None
            None: today. [UTC]

        Returns
        -------
        Decimal
            Where it isn't known by which marks it was read, the place farther outbye. [m]

        Source
        ------
        Common practice, no source: what is not known is taken as the stricter says.
        """
        for at_once in self._later(until):
            moved_m = _moved_m(read_m, at_once)
            read_m = min(read_m, moved_m) if self._is_doubted(at_once[0]) else moved_m
        return max(read_m, Decimal(0))

    def torn_at_m(self, from_m: Decimal, to_m: Decimal) -> Decimal | None:
        """Find the chainage from which only a part of a stretch would move.

        Parameters
        ----------
        from_m, to_m : Decimal
            As they were read. [m]

        Returns
        -------
        Decimal or None
            Within the stretch, not at its ends: an end is a row, which is where it is. [m]

        Source
        ------
        Common practice, no source: a round's rows are taped from its joint.
        """
        for at_once in self._later(None):
            torn = (it.from_m for it in at_once if from_m < it.from_m < to_m)
            if (first := min(torn, default=None)) is not None:
                return first
            from_m, to_m = (_moved_m(it, at_once) for it in (from_m, to_m))
        return None

    def _is_doubted(self, it: Rechained) -> bool:
        return self.doubted_to is not None and it.at <= self.doubted_to

    def _later(self, until: datetime | None) -> list[tuple[Rechained, ...]]:
        """Give those that are not in what was read yet, those of one time together."""
        later = (
            it
            for it in self.rechained
            if (self.since is None or it.at > self.since) and (until is None or it.at <= until)
        )
        return [tuple(at_once) for _, at_once in groupby(later, key=lambda it: it.at)]


AS_READ = Chaining()


def in_order(rechained: Iterable[Rechained]) -> tuple[Rechained, ...]:
    """Put them in the order in which they were measured.

    Parameters
    ----------
    rechained : iterable of Rechained
        Of one heading. [m]

    Returns
    -------
    tuple of Rechained
        The oldest first. [m]

    Source
    ------
    Common practice, no source.
    """
    return tuple(sorted(rechained, key=lambda it: it.at))


def today_m(
    read_m: Decimal,
    read_at: datetime,
    rechained: Sequence[Rechained],
    *,
    ends_there: bool = False,
) -> Decimal:
    """Give today's chainage of what was read at a time.

    Parameters
    ----------
    read_m : Decimal
        As it was read. [m]
    read_at : datetime
        When. [UTC]
    rechained : sequence of Rechained
        Of the heading, in any order. [m]
    ends_there : bool
        True for the inbye end of a stretch of ground: it belongs to what lies outbye of it, and
        stays where shifting begins just there. [-]

    Returns
    -------
    Decimal
        Shifted by each that came later and began there or outbye; as it was read where none
        did. Never before the origin. [m]

    Source
    ------
    Common practice, no source.
    """
    later = in_order(it for it in rechained if it.at > read_at)
    for _, at_once in groupby(later, key=lambda it: it.at):
        read_m = _moved_m(read_m, tuple(at_once), ends_there=ends_there)
    return max(read_m, Decimal(0))


def _moved_m(
    read_m: Decimal, at_once: Sequence[Rechained], *, ends_there: bool = False
) -> Decimal:
    """Move one place by what was measured at one time; none comes to lie inbye of the next."""

    def alone_m(at_m: Decimal, *, ends: bool = False) -> Decimal:
        by = (it.by_m for it in at_once if at_m > it.from_m or (at_m == it.from_m and not ends))
        return at_m + sum(by, Decimal(0))

    inbye = {it.from_m for it in at_once if read_m < it.from_m}
    inbye |= {it.from_m for it in at_once if ends_there and read_m == it.from_m}
    return min([alone_m(read_m, ends=ends_there), *map(alone_m, inbye)])
