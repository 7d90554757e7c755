"""The laps of a round as lines for reports: those that were read, and those of placed sheets."""

from decimal import Decimal

from fieldapp.store.office.lines import LapLine
from fieldapp.work.office_lines.judged import ByStandard, ToJudge, judged
from schemas.bodies.round import Method, SheetLap, SheetSeen
from tests.unit.assess.conforming import JOINT, conforming


def strip(number: int, from_m: str, method: Method = "assumed", *read: SheetLap) -> SheetSeen:
    at_m = JOINT + Decimal(from_m)
    return SheetSeen(
        number=number,
        from_m=at_m,
        to_m=at_m + Decimal("2.7"),
        left_s_m=Decimal("-4.5"),
        right_s_m=Decimal("4.5"),
        from_method=method,
        to_method=method,
        laps=read,
    )


def laps(*sheets: SheetSeen) -> list[LapLine]:
    by = ByStandard("standard", conforming("O2", sheets=sheets), shown=True, in_force=True)
    lines = judged(ToJudge("revision", "hash", (by,))).lines
    return [it for it in lines if isinstance(it, LapLine)]


def test_a_lap_that_was_read_from_wall_to_wall_is_of_no_sheets() -> None:
    assert {it.sheets for it in laps()} == {None}


def test_a_lap_of_dragged_sheets_says_that_it_was_estimated() -> None:
    line = laps(strip(1, "-0.15", "tape"), strip(2, "2.25", "paced"))[-1]

    assert (line.sheets, line.lap) == ("sheet 1 and sheet 2", 2)
    assert (line.width_mm, line.method) == (300.0, "paced")


def test_a_lap_that_nobody_read_is_assumed() -> None:
    assert laps(strip(1, "-0.15"), strip(2, "2.25"))[-1].method == "assumed"


def test_a_lap_that_was_counted_says_so_whatever_its_edges_leave() -> None:
    counted = SheetLap(with_sheet=1, openings=2, held=True)
    line = laps(strip(1, "-0.15"), strip(2, "2.25", "assumed", counted))[-1]

    assert (line.openings, line.width_mm, line.method, line.held) == (2, 150.0, "tape", True)
