import pytest

from fieldapp.assess.matching import Matching, Standing, matched

DEMANDED = [(0.0, -1.4), (0.0, 0.0), (0.0, 1.4)]


def match(
    seen: list[tuple[float, float]], abandoned: tuple[tuple[float, float], ...] = ()
) -> Matching:
    return matched(seen, DEMANDED, cut_off_m=0.7, tolerance_m=0.15, abandoned_m=abandoned)


def standings(matching: Matching) -> list[Standing]:
    return [one.standing for one in matching.positions]


def test_bolts_in_their_places_are_present() -> None:
    assert standings(match(DEMANDED)) == [Standing.PRESENT] * 3


def test_nothing_seen_leaves_everything_missing() -> None:
    assert match([]).missing == (0, 1, 2)


def test_nothing_demanded_leaves_every_bolt_extra() -> None:
    assert matched(DEMANDED, [], 0.7, 0.15).extra == (0, 1, 2)


def test_a_bolt_a_little_away_is_off_position() -> None:
    matching = match([(0.0, -1.4), (0.1, 0.2), (0.0, 1.4)])

    assert standings(matching)[1] is Standing.OFF_POSITION
    assert matching.positions[1].off_m == pytest.approx(0.2236, abs=1e-4)


def test_a_bolt_beyond_the_cut_off_is_extra_and_its_position_missing() -> None:
    matching = match([(0.0, -1.4), (0.75, 0.0), (0.0, 1.4)])

    assert matching.missing == (1,)
    assert matching.extra == (1,)


def test_a_bolt_beside_a_hole_that_was_given_up_is_one_bolt() -> None:
    matching = match([(0.0, -1.4), (0.0, 0.25), (0.0, 1.4)], abandoned=((0.0, 0.0),))

    assert standings(matching) == [Standing.PRESENT, Standing.REPLACED_BESIDE, Standing.PRESENT]
    assert matching.extra == ()


def test_a_hole_that_was_given_up_is_no_bolt() -> None:
    matching = match([(0.0, -1.4), (0.0, 1.4)], abandoned=((0.0, 0.0),))

    assert standings(matching)[1] is Standing.MISSING
