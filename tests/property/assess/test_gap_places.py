"""Where a gap is said to be is where it is, beside every row, at the joint and at the face."""

from collections import Counter
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.gaps.ground import IN_LINE_M
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import BoltSeen, FaceReading
from schemas.bundle import Bundle
from schemas.findings import Place
from tests.unit.assess.conforming import conforming, length, missing, with_round, with_row

ROWS = 4
WRITTEN_M = 0.0011
"""Chainages are written to the millimetre."""

metres = st.integers(40, 220).map(lambda hundredths: Decimal(hundredths) / 100)
codes = st.sampled_from(["D1", "O2", "W3"])
holes = st.lists(st.tuples(st.integers(-1, ROWS), st.integers(1, 6)), max_size=3)


def spoiled(code: str, ahead: list[Decimal], face: Decimal, gone: list[tuple[int, int]]) -> Bundle:
    """A round of four rows so far apart, so far from the face, with bolts missing."""
    bundle = conforming(code, ROWS)
    for number, value in enumerate(ahead, start=1):
        bolts = _missing_in(gone, number)
        bundle = with_row(bundle, number, ahead_of_row_before=length(value), bolts=bolts)
    old = tuple(
        row.model_copy(update={"bolts": _missing_in(gone, number)})
        for number, row in zip((-1, 0), bundle.round.old_rows, strict=True)
    )
    wheres = ("left", "middle", "right")
    read = tuple(
        FaceReading.model_validate({"where": where, "reading": length(face, "staff")})
        for where in wheres
    )
    return with_round(bundle, old_rows=old, face_readings=read)


def _missing_in(gone: list[tuple[int, int]], row: int) -> tuple[BoltSeen, ...]:
    return tuple(missing(position) for number, position in gone if number == row)


def gap_of(bundle: Bundle) -> Place:
    return next(it for it in assess(bundle).findings if it.check == "largest_gap").places[0]


def chainages(bundle: Bundle) -> dict[str, float]:
    return {row.name: float(row.chainage_m) for row in seen_in(bundle).all_rows}


def lies_where_it_says(place: Place, rows: dict[str, float]) -> bool:
    """Read the words as a person does, and look for the middle by the rows' chainages."""
    assert place.chainage_m is not None
    at, where = float(place.chainage_m), place.words.removeprefix("gap ").split(", ")[0]
    where = where.replace("the two old rows", "the old row before it and the last old row")
    if where.startswith("beside "):
        return abs(rows[where.removeprefix("beside ")] - at) <= IN_LINE_M + WRITTEN_M
    outbye, inbye = where.removeprefix("between ").split(" and ")
    between = [name for name, x in rows.items() if rows[outbye] < x < at - WRITTEN_M]
    ahead = [name for name, x in rows.items() if at + WRITTEN_M < x]
    if inbye == "the face":
        return rows[outbye] < at and not ahead and not between
    return rows[outbye] < at < rows[inbye] and not between and ahead[0] == inbye


@settings(max_examples=150, deadline=None)
@given(codes, st.lists(metres, min_size=ROWS, max_size=ROWS), metres, holes)
def test_the_words_say_between_which_rows_the_middle_of_a_gap_lies(
    code: str, ahead: list[Decimal], face: Decimal, gone: list[tuple[int, int]]
) -> None:
    bundle = spoiled(code, ahead, face, gone)
    place = gap_of(bundle)

    assert lies_where_it_says(place, chainages(bundle)), place


def test_every_position_comes_up() -> None:
    """At the joint, between rows, in line with a row, and before the face."""
    near, far = Decimal("0.90"), Decimal("2.20")
    said: Counter[str] = Counter()
    for wide in range(ROWS):
        ahead = [far if row == wide else near for row in range(ROWS)]
        said[gap_of(spoiled("D1", ahead, near, [])).words.split(", ")[0]] += 1
    for row in range(-1, ROWS + 1):
        bundle = spoiled("D1", [near] * ROWS, near, [(row, 4)])
        said[gap_of(bundle).words.split(", ")[0]] += 1
    said[gap_of(spoiled("D1", [near] * ROWS, far, [])).words.split(", ")[0]] += 1
    both_old = spoiled("D1", [near] * ROWS, near, [(-1, 4), (0, 4)])
    said[gap_of(both_old).words.split(", ")[0]] += 1

    assert {
        "gap between the last old row and row 1",
        "gap between row 1 and row 2",
        "gap between row 3 and row 4",
        "gap between row 4 and the face",
        "gap between the two old rows",
        "gap beside the last old row",
        "gap beside row 1",
        "gap beside row 3",
    } <= said.keys(), said
