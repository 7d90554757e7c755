"""The bolts of a round as shapes: where each is, and how it stands."""

from collections.abc import Iterator

from fieldapp.assess import bolts_seen
from fieldapp.assess.seen import Row, Seen
from fieldapp.report.shapes import Bolt, BoltState, Tag

OFF_SHOWN_M = 0.1
"""A bolt nearer its demanded position than this is drawn without a line to it."""


def drawn_bolts(seen: Seen) -> tuple[Bolt, ...]:
    """Draw every demanded position and every extra bolt, old rows first."""
    return tuple(_drawn(row, bolt) for row in seen.all_rows for bolt in row.all_bolts)


def short_rows(seen: Seen) -> Iterator[Tag]:
    """Say beside a row that plates are missing in it and nobody said where."""
    for row in seen.all_rows:
        if row.bolts.unplaced:
            plates = f"{row.bolts.unplaced} plate{'s' if row.bolts.unplaced > 1 else ''}"
            middle = (row.line.left_s_m + row.line.right_s_m) / 2
            yield Tag(f"{plates} short, where?", float(row.chainage_m), middle, "rework")


def _drawn(row: Row, bolt: bolts_seen.Bolt) -> Bolt:
    demanded = _demanded(row, bolt)
    beside = bolt.mark is not None and bolt.mark.beside
    off_m = 0.0 if demanded is None else abs(bolt.s_m - demanded[1])
    is_off = off_m > OFF_SHOWN_M or (beside and off_m > 0)
    return Bolt(
        x_m=bolt.chainage_m,
        s_m=bolt.s_m,
        state=_state(bolt),
        row=row.number if row.number > 0 else None,
        position=bolt.position,
        old=row.number <= 0,
        off_from=demanded if is_off else None,
        beside=beside,
        assumed=bolt.method == "assumed",
    )


def _demanded(row: Row, bolt: bolts_seen.Bolt) -> tuple[float, float] | None:
    if bolt.position is None:
        return None
    return bolt.chainage_m, row.demanded.s_m[bolt.position - 1]


def _state(bolt: bolts_seen.Bolt) -> BoltState:
    if not bolt.looked_at:
        return "not looked at"
    if {"missing", "hole given up"} & set(bolt.faults):
        return "missing"
    if bolt.faults:
        return "not counting"
    if bolt.seated is None:
        return "not looked at"
    if not bolt.seated:
        return "loose"
    return "assumed" if bolt.method == "assumed" else "seated"
