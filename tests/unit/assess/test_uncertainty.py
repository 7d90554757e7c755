from decimal import Decimal

import pytest

from fieldapp.assess.uncertainty import Answer, decide

D = Decimal


def test_exactly_at_the_limit_is_within_when_the_reading_is_certain() -> None:
    decision = decide(D("1.00"), D("1.00"), "at most", D(0), D(2), again=False)

    assert decision.answer is Answer.WITHIN
    assert decision.conformance == 1.0


def test_one_step_beyond_is_beyond_when_the_reading_is_certain() -> None:
    assert decide(D("1.001"), D(1), "at most", D(0), D(2), again=False).answer is Answer.BEYOND


@pytest.mark.parametrize("measured", ["0.99", "1.00", "1.01"])
def test_a_straddle_is_a_breach_the_second_time(measured: str) -> None:
    first = decide(D(measured), D(1), "at most", D("0.02"), D(1), again=False)
    second = decide(D(measured), D(1), "at most", D("0.02"), D(1), again=True)

    assert first.answer is Answer.STRADDLES
    assert second.answer is Answer.BEYOND


def test_without_a_guard_factor_the_reading_is_taken_as_it_is() -> None:
    assert decide(D("0.999"), D(1), "at most", D("0.1"), D(0), again=False).answer is Answer.WITHIN


def test_at_least_is_the_mirror_of_at_most() -> None:
    low = decide(D("0.9"), D(1), "at least", D("0.02"), D(2), again=False)
    high = decide(D("-0.9"), D(-1), "at most", D("0.02"), D(2), again=False)

    assert low == high
