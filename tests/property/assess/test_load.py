"""Load: never a crash, never a mend, and every part of the ground has one bolt that carries it."""

from decimal import Decimal

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.load.tributary import tributary
from schemas.bundle import Bundle
from schemas.findings import Finding
from schemas.load_rules import SupportDemand
from tests.property.assess.rounds import bundles, decimals
from tests.property.assess.test_assess import SLOW

GROUND = shapely.box(0, -5, 4, 5)
places = st.tuples(st.floats(0, 4), st.floats(-5, 5))
sites = st.lists(places, min_size=1, max_size=25).map(lambda it: np.array(it))


def without_load(bundle: Bundle) -> Bundle:
    return _demanding(bundle, load=None)


def _demanding(bundle: Bundle, **limits: object) -> Bundle:
    """The same bundle under other limits."""
    classes = tuple(
        it.model_copy(update={"limits": it.limits.model_copy(update=limits)})
        for it in bundle.standard.classes
    )
    standard = bundle.standard.model_copy(update={"classes": classes})
    return bundle.model_copy(update={"standard": standard})


def loads(bundle: Bundle) -> list[Finding]:
    return [it for it in assess(bundle).findings if it.check == "load"]


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(bundles)
def test_load_only_ever_adds_to_what_the_other_checks_say(bundle: Bundle) -> None:
    judged, others = assess(bundle), assess(without_load(bundle))

    assert [it for it in judged.findings if it.check != "load"] == list(others.findings)
    assert judged.verdict.gravity >= others.verdict.gravity
    assert judged.held_at.gravity >= others.held_at.gravity
    assert judged.may_be_accepted <= others.may_be_accepted
    if others.rows_complete_to_m is None:
        assert judged.rows_complete_to_m is None
    elif judged.rows_complete_to_m is not None:
        assert judged.rows_complete_to_m <= others.rows_complete_to_m


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(bundles, decimals("0", "200", 1), decimals("0", "9", 1))
def test_whatever_is_demanded_a_factor_is_never_below_nothing(
    bundle: Bundle, kpa: Decimal, loosened: Decimal
) -> None:
    demand = SupportDemand(pressure_kpa=kpa, loosened_m=loosened, because="S-2, 3.2")
    classes = tuple(it.model_copy(update={"demand": demand}) for it in bundle.standard.classes)
    standard = bundle.standard.model_copy(update={"classes": classes})

    for found in loads(bundle.model_copy(update={"standard": standard})):
        assert found.measured is None or Decimal(found.measured) >= 0


@settings(max_examples=40, deadline=None)
@given(sites)
def test_all_shares_together_are_the_ground(bolts: np.ndarray) -> None:
    areas = tributary(bolts, GROUND).areas_m2(GROUND)

    assert areas.sum() == pytest.approx(GROUND.area, abs=1e-6)
    assert (areas >= 0).all()


@settings(max_examples=40, deadline=None)
@given(sites, places)
def test_one_bolt_more_takes_ground_from_the_others_and_gives_none(
    bolts: np.ndarray, other: tuple[float, float]
) -> None:
    """The least factor may still fall: the new bolt can have more ground than any before it."""
    before = tributary(bolts, GROUND).areas_m2(GROUND)
    after = tributary(np.concatenate([bolts, [other]]), GROUND).areas_m2(GROUND)

    assert (after[:-1] <= before + 1e-6).all()


def test_a_bolt_between_four_at_the_corners_has_more_ground_than_each_of_them() -> None:
    """Why one counting bolt more is no promise of a better least factor."""
    ground = shapely.box(0, 0, 2, 2)
    five = np.array([(0, 0), (0, 2), (2, 0), (2, 2), (1, 1)], dtype=float)

    assert tributary(five[:4], ground).areas_m2(ground).max() == pytest.approx(1)
    assert tributary(five, ground).areas_m2(ground).max() == pytest.approx(2)


@settings(max_examples=40, deadline=None)
@given(sites)
def test_how_a_share_moves_is_how_it_is_measured_to_move(bolts: np.ndarray) -> None:
    """Moving all bolts and the ground together changes nothing: the sum of all moves is 0."""
    moved = tributary(bolts, GROUND).moved_m()

    assert moved.sum(axis=0) == pytest.approx(np.zeros((len(bolts), 2)), abs=1e-6)
