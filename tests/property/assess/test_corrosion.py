"""Whatever is read, thinner steel never has more left or longer to go."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.corrosion import Piece, Place, SteelJudged, Thickness, judged
from fieldapp.assess.corrosion.residual import share_left, thinnest_mm
from schemas.corrosion_rules import CorrosionRate, Steel

PUT_UP = datetime(2011, 3, 1, tzinfo=UTC)
STEELS = st.sampled_from(["bar", "wire", "tube", "plate"])
READINGS = st.lists(st.tuples(st.integers(1, 3_000), st.integers(0, 2_200)), max_size=6)
RATES = st.none() | st.tuples(st.integers(0, 300), st.integers(0, 9))


def found(
    steel: Steel,
    readings: list[tuple[int, int]],
    rates: tuple[int, int] | None,
    days: int,
    zinc_um: int = 20,
) -> SteelJudged:
    piece = Piece(steel, Decimal(22), PUT_UP, Decimal(zinc_um))
    read = [
        Thickness(PUT_UP + timedelta(days=day), Decimal(left) / 100, Decimal("0.1"))
        for day, left in readings
    ]
    expected = rates and CorrosionRate(
        corrosivity="C4",
        steel_um_per_year=Decimal(rates[0]),
        zinc_um_per_year=Decimal(rates[1]),
        because="S-2, 10.7",
    )
    as_at = PUT_UP + timedelta(days=days)
    return judged(piece, read, Place(Decimal("0.8"), expected, as_at, as_at + timedelta(days=30)))


@settings(max_examples=60)
@given(STEELS, READINGS, RATES, st.integers(3_000, 9_000))
def test_what_is_said_holds_together(
    steel: Steel, readings: list[tuple[int, int]], rates: tuple[int, int] | None, days: int
) -> None:
    said = found(steel, readings, rates, days)
    lasts = said.lasts

    assert (said.share is None) == (said.governs is None)
    if said.share is not None and said.read_share is not None:
        assert said.share <= said.read_share
    if lasts is not None:
        ends = [it for it in (lasts.earliest, lasts.years, lasts.latest) if it is not None]
        assert ends == sorted(ends)
        assert lasts.earliest is not None or lasts.years is None
        assert lasts.years is not None or lasts.latest is None
        assert said.may_fall_before_next_walk is not None


@settings(max_examples=60)
@given(STEELS, st.integers(1, 3_000), st.integers(0, 2_200), RATES, st.integers(3_000, 9_000))
def test_a_thinner_reading_never_leaves_more(
    steel: Steel, day: int, left: int, rates: tuple[int, int] | None, days: int
) -> None:
    thick = found(steel, [(day, left)], rates, days)
    thin = found(steel, [(day, left * 9 // 10)], rates, days)

    assert thick.share is not None
    assert thin.share is not None
    assert thin.share <= thick.share
    if thick.lasts and thin.lasts and thick.lasts.years is not None:
        assert thin.lasts.years is not None
        assert thin.lasts.years <= thick.lasts.years


@settings(max_examples=60)
@given(STEELS, READINGS, RATES, st.integers(3_000, 9_000), st.integers(0, 2_000))
def test_later_there_is_never_more_left(
    steel: Steel,
    readings: list[tuple[int, int]],
    rates: tuple[int, int] | None,
    days: int,
    more: int,
) -> None:
    now, then = (found(steel, readings, rates, it) for it in (days, days + more))

    if now.share is not None:
        assert then.share is not None
        assert then.share <= now.share


@given(STEELS, st.integers(1, 100))
def test_at_its_thinnest_a_piece_has_just_what_must_be_left(steel: Steel, percent: int) -> None:
    share = Decimal(percent) / 100

    assert share_left(steel, Decimal(22), thinnest_mm(steel, Decimal(22), share)) == share
