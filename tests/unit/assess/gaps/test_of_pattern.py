import pytest

from fieldapp.assess.gaps.of_pattern import intact_gap_m, missing_gap_m, one_missing_gap_m


def test_rows_nearer_than_half_a_spacing_turn_the_staggered_cell() -> None:
    """Below b = s/2 the formula b + s²/(4b) no longer holds: its triangle is blunt."""
    assert intact_gap_m(2.0, 0.5, staggered=True) < 0.5 + 2.0**2 / (4 * 0.5)


def test_a_square_turned_by_an_eighth_is_a_square() -> None:
    assert intact_gap_m(2.0, 1.0, staggered=True) == pytest.approx(2.0)


def test_nothing_missing_is_refused_no_hole_has_no_middle() -> None:
    with pytest.raises(ValueError, match="empty"):
        missing_gap_m(1.4, 1.2, [], staggered=False)


@pytest.mark.parametrize("staggered", [True, False])
def test_a_missing_bolt_never_narrows_the_gap(staggered: bool) -> None:  # noqa: FBT001
    assert one_missing_gap_m(1.4, 0.3, staggered=staggered) >= intact_gap_m(
        1.4, 0.3, staggered=staggered
    )


@pytest.mark.parametrize(("s", "b"), [(0.0, 1.2), (1.4, -1.0)])
def test_no_pattern_without_spacings(s: float, b: float) -> None:
    with pytest.raises(ValueError, match="must be positive"):
        intact_gap_m(s, b, staggered=False)
