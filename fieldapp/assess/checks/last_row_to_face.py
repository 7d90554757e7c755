"""The distance from the last row to the face."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.known_face import nearer_face
from fieldapp.assess.readings import face_readings
from fieldapp.assess.rows_judged import not_known
from fieldapp.assess.seen import Row, Seen
from schemas.bodies.round import LengthReading
from schemas.findings import Finding, Place
from schemas.limits import AtMostMetres
from schemas.numbers import STEP_M, text


def last_row_to_face(seen: Seen, demanded: AtMostMetres) -> tuple[Finding, ...]:
    """Judge it left, in the middle and right: the largest governs.

    New support over old is read to the old row that stays inbye, and the chainages count beside
    what was read: no row may be left out before it. A face that was known to be farther away
    than this is not wholly looked at until somebody says why it is nearer.

    Parameters
    ----------
    seen : Seen
        Readings from behind the last row, and which row is complete. [m]
    demanded : AtMostMetres
        The bound. [m]

    Returns
    -------
    tuple of Finding
        The largest; a row with a position that does not count is not the last row. [m]

    Source
    ------
    Common practice, no source.
    """
    last = seen.rows[-1]
    complete = next((row for row in reversed(seen.all_rows) if _is_complete(row)), None)
    short_m = last.chainage_m - (complete.chainage_m if complete else _outmost_m(seen))
    read = face_readings(seen.round)
    name = complete.name if complete else "the old rows"
    readings = [_reading(seen, name, short_m, (where, one)) for where, one in read.items()]
    readings += _by_chainage(seen, name, complete.chainage_m if complete else _outmost_m(seen))
    places = ("left", "middle", "right")
    end = seen.round.ends_at
    unseen = [Place(words=f"{end}, {where}") for where in places if where not in read]
    unseen += not_known(last)
    how = f"from {name}"
    nearer = nearer_face(seen.round, demanded.at_most_m)
    if nearer is not None:
        known = text(nearer.known_m)
        if nearer.why is None:
            unseen.append(Place(words=f"why the face is not at {known} m"))
        else:
            how = f"from {name}; the face is not at {known} m: {nearer.why}"
    title = "Last row to the old row inbye" if seen.round.over else ""
    check = Check("last_row_to_face", how, "read from behind the last row", title)
    return measured(check, demanded, readings, unseen, STEP_M)


def _reading(seen: Seen, name: str, short_m: Decimal, read: tuple[str, LengthReading]) -> Reading:
    where, reading = read
    end = seen.round.ends_at
    return Reading(
        value=reading.value_m + short_m,
        u=seen.doubts_m[reading.method],
        place=lambda: Place(words=f"{name} to {end}, {where}"),
        again=reading.again,
        fix=lambda: f"add a row between {name} and {end}, from accepted ground",
    )


def _by_chainage(seen: Seen, name: str, from_m: Decimal) -> Iterator[Reading]:
    """Yield how far the old row inbye is by the chainages; a face stands where it is read."""
    over = seen.round.over
    if over is not None:
        short_m = max(Decimal(0), over.to_m - from_m)
        yield Reading(
            value=short_m,
            u=seen.doubts_m["tape"],
            place=lambda: Place(words=f"{name} to the row inbye at {over.to_m} m, by chainage"),
            again=True,
            fix=lambda: f"add rows up to {over.to_m} m, from accepted ground",
        )


def _is_complete(row: Row) -> bool:
    """Every position counts, as far as is known; what is not known is said beside it."""
    return all(bolt.counts for bolt in row.bolts.positions) and not row.bolts.unplaced


def _outmost_m(seen: Seen) -> Decimal:
    return seen.all_rows[0].chainage_m
