"""What every touch carries, and how a round is changed without being changed."""

from typing import TypeVar

from pydantic import AwareDatetime

from schemas.bodies.round import BoltSeen, LapSeen, Round, RowSeen, SpotCheck
from schemas.part import Own, Part

SomePart = TypeVar("SomePart", bound=Part)


class Touch(Own):
    """What every touch carries: when, and by whom (a person's id; None: nobody signed in)."""

    at: AwareDatetime
    by: str | None = None

    def onto(self, seen: Round) -> Round:
        """Give the round as it is after this touch."""
        raise NotImplementedError


def with_fields(part: SomePart, **changes: object) -> SomePart:
    """Give the part with some fields changed."""
    return part.model_copy(update=changes)


def row_of(seen: Round, number: int) -> RowSeen:
    """Give what was seen of a row; an empty one where nobody looked yet."""
    return next((row for row in seen.rows if row.number == number), RowSeen(number=number))


def with_row(seen: Round, number: int, **changes: object) -> Round:
    """Give the round with one row changed, rows in order."""
    changed = with_fields(row_of(seen, number), **changes)
    others = [row for row in seen.rows if row.number != number]
    rows = tuple(sorted([*others, changed], key=lambda row: row.number))
    return with_fields(seen, rows=rows)


def with_old_row(seen: Round, index: int, **changes: object) -> Round:
    """Give the round with one of its two old rows changed."""
    rows = list(seen.old_rows)
    rows[index] = with_fields(rows[index], **changes)
    return with_fields(seen, old_rows=tuple(rows))


def without_last_row(seen: Round) -> Round:
    """Give the round without what was read from its last row: another row is the last one now."""
    return with_fields(
        seen,
        face_readings=(),
        face_nearer=None,
        last_row_marked=None,
        mesh=with_fields(seen.mesh, to_face=None),
        bolter=with_fields(seen.bolter, bolting_finished_at=None),
    )


def without_whole_mesh(seen: Round) -> Round:
    """Give the round without what was said of all its mesh: there is more of it now."""
    more = with_fields(seen.mesh, above_floor=None, no_holes=None, no_bagging=None)
    return with_fields(seen, mesh=more)


def without_bolt(seen: Round, number: int, position: int) -> Round:
    """Give the round without what was answered about a bolt that is not there any more.

    What its torque was is kept: one out of its window says something of those beside it.
    """
    row = row_of(seen, number)
    spots = tuple(
        SpotCheck(position=position) if spot.position == position else spot
        for spot in row.spot_checks
    )
    spacings = tuple(
        it for it in row.spacings if position not in (it.from_position, it.to_position)
    )
    torques = tuple(
        with_fields(it, gone=True) if (it.row, it.position) == (number, position) else it
        for it in seen.torques
    )
    changed = with_row(seen, number, spot_checks=spots, spacings=spacings)
    return with_fields(changed, torques=torques)


def with_lap(seen: Round, number: int, **changes: object) -> Round:
    """Give the round with one lap changed, laps in order."""
    known = next((lap for lap in seen.laps if lap.number == number), LapSeen(number=number))
    others = [lap for lap in seen.laps if lap.number != number]
    laps = tuple(sorted([*others, with_fields(known, **changes)], key=lambda lap: lap.number))
    return with_fields(seen, laps=laps)


def with_bolt(bolts: tuple[BoltSeen, ...], bolt: BoltSeen) -> tuple[BoltSeen, ...]:
    """Give the bolts with one more; the same place looked at again replaces the answer."""
    kept = tuple(known for known in bolts if not _same_place(known, bolt))
    return (*kept, bolt)


def _same_place(known: BoltSeen, bolt: BoltSeen) -> bool:
    if known.position is None:
        return bolt.position is None and known.s_m == bolt.s_m
    return known.position == bolt.position
