"""What a supervisor saw at the second look, once what was found at the first was put right."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.demanded import rows_demanded
from fieldapp.work.demanded import torque_positions_in_round
from fieldapp.work.demo.history.looking import Looking
from schemas.bodies.round import (
    CountedRow,
    LapSeen,
    LengthReading,
    Round,
    RowSeen,
    TorqueSeen,
)


def mended(looking: Looking, first: Round, at: datetime) -> Round:
    """Give the round of a first look as it was then."""
    fault = looking.one.fault
    if fault == "short lap":
        return first.model_copy(update={"laps": tuple(_lapped(looking, first))})
    if fault == "low torque":
        return _torqued_again(looking, first)
    if fault == "too far from the face":
        return _one_row_more(looking, first, at)
    rows = tuple(_put_right(row, at) for row in first.rows)
    return _torqued(looking, first.model_copy(update={"rows": rows}))


def _lapped(looking: Looking, first: Round) -> Iterator[LapSeen]:
    limit = looking.place.demanded.limits.mesh_lap
    assert limit is not None  # noqa: S101 - every class of the past has mesh
    for lap in first.laps:
        least = max(lap.openings or 0, limit.at_least_openings)
        yield lap.model_copy(update={"openings": least})


def _put_right(row: RowSeen, at: datetime) -> RowSeen:
    """Give a row whose bolt was tightened or put in: it is counted again."""
    if not row.bolts or row.counted is None:
        return row
    spots = tuple(it.model_copy(update={"plate_gap": "tight"}) for it in row.spot_checks)
    counted = CountedRow(plates=row.counted.plates + len(row.bolts), at=at)
    return row.model_copy(update={"bolts": (), "counted": counted, "spot_checks": spots})


def _torqued_again(looking: Looking, first: Round) -> Round:
    """Tighten the bolt that was out; the standard asks for the next ones then."""
    low = first.torques[0]
    anew = low.model_copy(update={"torque_nm": looking.torque_nm(0), "again": True})
    return _torqued(looking, first.model_copy(update={"torques": (*first.torques, anew)}))


def _torqued(looking: Looking, seen: Round) -> Round:
    """Read the bolts that the standard asks for and that were not read yet."""
    read = {it.bolt for it in seen.torques}
    work = looking.place.work(seen, looking.round_id, looking.previous)
    more = tuple(
        TorqueSeen(bolt=bolt, row=row, position=at, torque_nm=looking.torque_nm(bolt))
        for bolt, (row, at) in torque_positions_in_round(work)
        if bolt not in read
    )
    return seen.model_copy(update={"torques": (*seen.torques, *more)})


def _one_row_more(looking: Looking, first: Round, at: datetime) -> Round:
    """Put up one more row before the face: what was read from the last row is read again."""
    added_m = looking.one.row_added_m or Decimal(0)
    rows = len(first.rows) + 1
    planned = first.model_copy(update={"rows_planned": rows})
    bolts = len(rows_demanded(looking.place.demanded, planned)[-1].s_m)
    row = RowSeen(
        number=rows,
        ahead_of_row_before=LengthReading(value_m=added_m, method="tape"),
        counted=CountedRow(plates=bolts, at=at),
    )
    with_row = planned.model_copy(update={"rows": (*first.rows, row)})
    work = looking.place.work(with_row, looking.round_id, looking.previous)
    taped = row.model_copy(update={"spacings": tuple(looking.taped(work, row))})
    said = {
        "rows": (*first.rows, taped),
        "mesh": first.mesh.model_copy(update={"to_face": _nearer(first.mesh.to_face, added_m)}),
        "face_readings": tuple(
            it.model_copy(update={"reading": _nearer(it.reading, added_m)})
            for it in first.face_readings
        ),
    }
    one = replace(looking.one, ahead_m=(*looking.one.ahead_m, added_m))
    laps = tuple(replace(looking, one=one).laps())
    said["laps"] = (*first.laps, *laps[len(first.laps) :])
    return _torqued(looking, planned.model_copy(update=said))


def _nearer(reading: LengthReading | None, by_m: Decimal) -> LengthReading:
    assert reading is not None  # noqa: S101 - it was read at the first look
    return reading.model_copy(update={"value_m": reading.value_m - by_m})
