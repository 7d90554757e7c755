"""A take-off covers its ground, and a metre of it is the round shared out."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.laps import Sheet
from fieldapp.assess.take_off import take_off, wanted_for
from fieldapp.assess.take_off.mesh import pieces_across, pieces_along, strip_width_m, strips_from
from fieldapp.assess.take_off.resin import Hole, capsule_m, filled_share
from tests.standards import D1, O2, changed

CLASSES = changed(lambda document: document).classes
MM = Decimal("0.001")

advances = st.integers(300, 12_000).map(lambda it: it * MM)
lengths = st.integers(2_000, 20_000).map(lambda it: it * MM)
sheets = st.tuples(st.integers(1_000, 4_000), st.integers(0, 900)).map(
    lambda it: Sheet(it[0] * MM, it[1] * MM)
)


@given(advances, sheets)
def test_strips_cover_the_advance_and_one_fewer_would_not(advance: Decimal, sheet: Sheet) -> None:
    strips = pieces_along(advance, sheet)

    assert strips * sheet.advance_m >= advance
    assert strips == 1 or (strips - 1) * sheet.advance_m < advance


@given(lengths, sheets)
def test_sheets_reach_along_the_line_and_one_fewer_would_not(line: Decimal, sheet: Sheet) -> None:
    across = pieces_across(line, sheet)

    assert across * sheet.along_m - (across - 1) * sheet.lap_m >= line
    assert across == 1 or (across - 1) * sheet.along_m - (across - 2) * sheet.lap_m < line


@given(advances, st.integers(0, 900).map(lambda it: it * MM), st.sampled_from(["0.1", "0.25"]))
def test_a_strip_to_order_covers_the_advance_alone_within_one_step(
    advance: Decimal, lap: Decimal, step: str
) -> None:
    width = strip_width_m(advance, lap, Decimal(step))

    assert 0 <= width - (advance + lap) < Decimal(step)
    assert pieces_along(advance, Sheet(width, lap)) == 1


@given(lengths, st.integers(0, 60))
def test_a_roll_gives_no_strip_that_it_does_not_hold(strip: Decimal, whole: int) -> None:
    roll = strip * whole + strip / 2

    assert strips_from(roll, strip, None, Decimal("0.3")) == whole


@given(advances, st.sampled_from([D1, O2]))
def test_a_metre_of_it_times_the_advance_is_the_round(advance: Decimal, index: int) -> None:
    for item in take_off(CLASSES[index], wanted_for(CLASSES[index], advance)).items:
        assert abs(item.per_metre * advance - item.per_round) <= (advance + 1) * MM / 2, item


@given(advances, st.sampled_from([D1, O2]))
def test_every_bolt_has_one_plate(advance: Decimal, index: int) -> None:
    items = take_off(CLASSES[index], wanted_for(CLASSES[index], advance)).items
    bolts, plates = (
        sum(it.per_round for it in items if it.kind == kind) for kind in ("bolts", "plates")
    )

    assert bolts == plates > 0


@given(st.integers(500, 4_000), st.integers(16, 30), st.integers(2, 12), st.integers(18, 28))
def test_as_much_capsule_as_is_asked_for_fills_the_hole(
    filled: int, bar: int, wider: int, capsule: int
) -> None:
    hole = Hole(Decimal(bar + wider), Decimal(bar), Decimal(min(capsule, bar + wider)))
    share = filled_share(capsule_m(filled * MM, hole), filled * MM, hole)

    assert abs(share - 1) < Decimal("0.01")
