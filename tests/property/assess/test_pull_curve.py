"""A proof test that passes would pass under every milder demand, and a scale changes nothing."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.pull_curve import held, proof_judged, stiffness_kn_per_mm
from schemas.bodies.bolt_test import PullReading

READINGS = st.lists(
    st.tuples(st.integers(0, 120), st.integers(0, 20), st.integers(0, 60)), max_size=8
)


def pulled(readings: list[tuple[int, int, int]], scale: int = 1) -> list[PullReading]:
    at, made = 0, []
    for kn, mm, s in readings:
        at += s
        made.append(
            PullReading(
                load_kn=Decimal(kn * scale), displacement_mm=Decimal(mm), after_s=Decimal(at)
            )
        )
    return made


@settings(max_examples=60)
@given(READINGS, st.integers(1, 119), st.integers(0, 3), st.integers(0, 20))
def test_what_passes_passes_under_a_milder_demand(
    readings: list[tuple[int, int, int]], load: int, minutes: int, slip: int
) -> None:
    test = proof_judged(pulled(readings), Decimal(load), minutes, Decimal(slip))
    milder = proof_judged(pulled(readings), Decimal(load), max(0, minutes - 1), Decimal(slip + 1))

    if test is not None and test.passed:
        assert milder is not None
        assert milder.passed


@settings(max_examples=60)
@given(READINGS, st.integers(1, 119))
def test_a_smaller_load_was_held_no_shorter(
    readings: list[tuple[int, int, int]], load: int
) -> None:
    at_load = held(pulled(readings), Decimal(load + 1), None)
    below = held(pulled(readings), Decimal(load), None)

    if at_load is not None:
        assert below is not None
        assert at_load.held_s is not None
        assert below.held_s is not None
        assert below.held_s >= at_load.held_s


@settings(max_examples=60)
@given(READINGS, st.integers(2, 9))
def test_stiffness_grows_with_the_load(readings: list[tuple[int, int, int]], scale: int) -> None:
    once, more = (
        stiffness_kn_per_mm(pulled(readings)),
        stiffness_kn_per_mm(pulled(readings, scale)),
    )

    assert (once is None) == (more is None)
    if once is not None and more is not None:
        assert abs(more - once * scale) <= Decimal("0.05") * (scale + 1)
