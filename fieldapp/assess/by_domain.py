"""The findings of a round whose ground changes within it: each domain by its own class.

Each domain is judged as a round of its own that meets the other between two rows. The ground
across the split counts for both, so that the stricter of both classes governs there; what is not
of a row, such as the mesh, is judged by both.
"""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Final

from fieldapp.assess.checks import Check, checks_of
from fieldapp.assess.seen import Row, Seen
from schemas.bodies.round import Round, TorqueSeen
from schemas.findings import Finding

_OF_ROWS: Final = frozenset(
    {
        "bolts_present",
        "bolt_spacing",
        "lowest_bolt",
        "density",
        "bolt_type",
        "bolt_angle",
        "plates_seated",
        "torque",
    }
)
_ACROSS: Final = frozenset(
    {"neighbouring_bolts", "largest_gap", "row_spacing", "load", "mesh_panel"}
)
_AT_THE_JOINT: Final = frozenset({"old_rows"})
_AT_THE_FACE: Final = frozenset({"last_row_to_face", "last_row_marked", "face_made_safe"})


def findings_of(seen: Seen, only: Collection[str] | None = None) -> list[Finding]:
    """Judge a round by every check of its class, or of both its classes.

    Parameters
    ----------
    seen : Seen
        What was seen, each row by its own domain. [various]
    only : collection of str or None
        By these checks alone, where they are named. [-]

    Returns
    -------
    list of Finding
        In the order of the checks; of two domains, each names its class. [various]

    Source
    ------
    Common practice, no source: whichever class is stricter governs where two meet.
    """
    checks = [it for it in checks_of(seen.round) if only is None or it.__name__ in only]
    judge = _by_both if has_two(seen) else _judged
    return [it for check in checks for it in judge(check, seen)]


def has_two(seen: Seen) -> bool:
    """Tell whether rows of both domains are there.

    Parameters
    ----------
    seen : Seen
        The round. [-]

    Returns
    -------
    bool
        False too where the second domain begins past the last row. [-]

    Source
    ------
    Common practice, no source.
    """
    return any(row.domain for row in seen.rows)


def by_each_class(seen: Seen) -> tuple[Seen, ...]:
    """Give the whole round as each of its classes sees it.

    Parameters
    ----------
    seen : Seen
        The round. [various]

    Returns
    -------
    tuple of Seen
        One, or one for each domain: the same rows, another class. [various]

    Source
    ------
    Common practice, no source.
    """
    if not has_two(seen):
        return (seen,)
    return tuple(_by(seen, number) for number in range(len(seen.domains)))


def load_views(seen: Seen) -> tuple[tuple[Seen, frozenset[int]], ...]:
    """Give a round as its load is judged: by each class, with the rows that are its own.

    Parameters
    ----------
    seen : Seen
        The round. [various]

    Returns
    -------
    tuple of (Seen, numbers of rows)
        One, or one for each domain that rows stand in: each is bounded by the first row past the
        split, whose ground is the other's. [various]

    Source
    ------
    Common practice, no source.
    """
    if not has_two(seen):
        return ((seen, frozenset(row.number for row in seen.all_rows)),)
    own = [frozenset(row.number for row in seen.rows if row.domain == n) for n in (0, 1)]
    old = frozenset(row.number for row in seen.old_rows)
    views = tuple(_views("load", seen))
    numbers = (own[0] | old, own[1]) if own[0] else (own[1] | old,)
    return tuple(zip(views, numbers, strict=True))


def _judged(check: Check, seen: Seen) -> tuple[Finding, ...]:
    limit = getattr(seen.support_class.limits, check.__name__)
    return () if limit is None else check(seen, limit)


def _by_both(check: Check, seen: Seen) -> Iterator[Finding]:
    """Yield what a check finds by each class, naming it; once where both say the same."""
    views = list(_views(check.__name__, seen))
    judged = [(view.support_class.code, it) for view in views for it in _judged(check, view)]
    alike = [it for index, (_, it) in enumerate(judged) if it in [o for _, o in judged[:index]]]
    yield from alike
    for code, finding in judged:
        if finding not in alike:
            yield finding.model_copy(update={"title": f"{finding.title}, {code}"})


def _views(check: str, seen: Seen) -> Iterator[Seen]:
    """Yield the round as a check sees it: once by each class that it is judged by."""
    outbye = [row for row in seen.rows if not row.domain]
    inbye = [row for row in seen.rows if row.domain]
    first, second = by_each_class(seen)
    if check in _AT_THE_JOINT:
        yield first if outbye else second
    elif check in _AT_THE_FACE:
        yield second
    elif check in _OF_ROWS or check in _ACROSS:
        across = check in _ACROSS
        if outbye:
            yield _outbye(first, (*outbye, *inbye[:1]) if across else tuple(outbye), across=across)
        yield _inbye(second, outbye, inbye, across=across)
    else:
        yield from (first, second)


def _by(seen: Seen, number: int) -> Seen:
    domain = seen.domains[number]
    return replace(
        seen,
        support_class=domain.support_class,
        profile=domain.profile,
        borders=domain.borders,
        rules=domain.rules,
    )


def _outbye(seen: Seen, rows: tuple[Row, ...], *, across: bool) -> Seen:
    """Give the outbye domain, across the split as far as the next row: it has no face."""
    asked = seen.round.model_copy(update={"rows_planned": len(rows)})
    return replace(seen, rows=rows, round=asked, has_face=not across)


def _inbye(seen: Seen, outbye: list[Row], inbye: list[Row], *, across: bool) -> Seen:
    """Give the inbye domain: it begins at the last row before it, which counts like an old one."""
    if not outbye:
        return replace(seen, rows=tuple(inbye))
    before = (*seen.old_rows, *outbye)[-2:] if across else ()
    asked = _begun_at(seen.round, outbye)
    return replace(seen, rows=tuple(inbye), old_rows=before, round=asked)


def _begun_at(asked: Round, outbye: list[Row]) -> Round:
    """Give the round as it goes on from its last row before the split."""
    bolts = sum(len(row.demanded.s_m) for row in outbye)
    torques = numbered_from(asked.torques, bolts)
    joint_m: Decimal = outbye[-1].chainage_m
    return asked.model_copy(update={"joint_m": joint_m, "torques": torques})


def numbered_from(torques: Iterable[TorqueSeen], before: int) -> tuple[TorqueSeen, ...]:
    """Leave out the torques of bolts before a place, and number the rest from there.

    Parameters
    ----------
    torques : iterable of TorqueSeen
        Of a round, numbered in the order of rows and positions. [N·m]
    before : int
        How many bolts stand before it. [-]

    Returns
    -------
    tuple of TorqueSeen
        Those past it, numbered from 1. [N·m]

    Source
    ------
    Common practice, no source.
    """
    past = (it for it in torques if it.bolt > before)
    return tuple(it.model_copy(update={"bolt": it.bolt - before}) for it in past)
