"""A pull test passes, fails, or can't be judged, and says why."""

from datetime import timedelta
from typing import Any

import pytest

from fieldapp.assess.bolt_tests import result_of
from schemas.bodies.bolt_test import BoltTest
from tests.standards import changed
from tests.unit.assess.bolt_tests.pulls import HELD, TESTED, held, pull, result, slipped


def destructive(*readings: tuple[object, ...], **said: Any) -> BoltTest:
    """Give a bar that was put in to be pulled until it gives: at least 100 kN within 15 mm."""
    said = {"kind": "destructive pull", "part_of_support": False, **said}
    return pull(*readings, **said)


def test_a_load_held_within_the_slip_passes_and_says_what_was_read_and_demanded() -> None:
    assert result(held()).words == (
        "passed: 85.0 kN held for 1 min, the head came 4.0 mm; "
        "demanded: 85 kN held for 1 min, slip at most 10 mm (S-2, 11.1)"
    )


def test_the_readings_tell_the_hold_where_nobody_stated_it() -> None:
    read = pull((0, 0, 0), (85, 4, 20), (86, 4, 80))

    assert result(read).outcome == "passed"


@pytest.mark.parametrize(
    ("broke", "because"),
    [
        ("bar", "the bar broke at 62.0 kN"),
        ("thread", "the thread stripped at 62.0 kN"),
        ("anchor slipped", "the anchor slipped at 62.0 kN"),
        ("plate", "the plate gave at 62.0 kN"),
    ],
)
def test_what_gives_below_the_load_fails(broke: str, because: str) -> None:
    read = result(pull((0, 0), (62, 4), broke=broke))

    assert (read.outcome, read.because) == ("failed", because)


def test_a_bolt_that_gives_in_a_proof_test_fails_though_the_load_was_held() -> None:
    assert result(held(broke="anchor slipped")).outcome == "failed"


def test_a_head_that_comes_too_far_fails_and_as_far_as_allowed_passes() -> None:
    far, just = (pull((0, 0), (85, mm), held_min=1) for mm in ("10.1", "10"))

    assert result(far).because == "the head came 10.1 mm by 85.0 kN"
    assert (result(far).outcome, result(just).outcome) == ("failed", "passed")


@pytest.mark.parametrize(
    ("read", "because"),
    [
        (pull(), "no load was read"),
        (pull((0, 0), (60, 3), broke="nothing"), "pulled to 60.0 kN only, and it held that"),
        (pull(*HELD), "nobody said how long it was held"),
        (
            pull((85, 0), held_min=1),
            "nothing was read below 85 kN, so nobody knows the slip",
        ),
        (held(held_min=0), "held for less than 1 min"),
        (held(rig_checked_at=None), "the rig was never calibrated, as far as anybody said"),
        (
            pull((0, 0, 0), (85, 4, 10), (70, 4, 40), held_min=1),
            "1 min were stated, the readings fell below the load before that",
        ),
        (
            pull((0, 0), (850, 4), held_min=1),
            "850.0 kN is more than the thread of RB24 carries, 122.5 kN: look at the gauge",
        ),
        (
            held(bolt_type="XX"),
            "S-2 revision 5 says nothing of a proof pull test of XX",
        ),
    ],
)
def test_what_shows_nothing_of_the_bolt_cant_be_judged(read: BoltTest, because: str) -> None:
    came_to = result(read)

    assert (came_to.outcome, came_to.because) == ("can't be judged", because)


def test_a_failure_stands_though_the_rig_was_never_calibrated() -> None:
    assert result(slipped(rig_checked_at=None)).outcome == "failed"


def test_a_rig_that_was_calibrated_too_long_ago_shows_nothing_but_a_failure() -> None:
    """The demo's standard asks for it within 365 days."""
    lately, long_ago = (TESTED - timedelta(days=it) for it in (365, 1069))
    old = result(held(rig_checked_at=long_ago))

    assert result(held(rig_checked_at=lately)).outcome == "passed"
    assert (old.outcome, old.because) == (
        "can't be judged",
        "the rig was last calibrated on 2028-06-01, more than 365 days before",
    )
    assert result(slipped(rig_checked_at=long_ago)).outcome == "failed"


def test_a_standard_that_says_nothing_of_it_asks_only_for_a_calibration() -> None:
    silent = changed(lambda document: document["bolt_tests"][0].pop("calibrated_within_days"))
    old = held(rig_checked_at=TESTED - timedelta(days=1069))

    assert result_of(old, silent).outcome == "passed"


def test_a_bolt_pulled_until_it_gives_passes_by_the_load_it_reached() -> None:
    broke = result(destructive((0, 0), (100, 12), (131, 40), broke="bar"))

    assert broke.because == (
        "131.0 kN reached, the head came 12.0 mm by 100 kN, then the bar broke"
    )
    assert (broke.outcome, broke.limit) == ("passed", "at least 100 kN, slip at most 15 mm")


def test_the_slip_of_a_destructive_test_is_read_where_the_load_was_reached() -> None:
    """Between 90 kN at 10 mm and 110 kN at 22 mm, 100 kN were reached at 16 mm."""
    between = result(destructive((0, 0), (90, 10), (110, 22), (131, 40), broke="bar"))

    assert (between.outcome, between.because) == ("failed", "the head came 16.0 mm by 100 kN")


def test_a_head_that_came_too_far_before_the_load_was_reached_fails_though_nothing_gave() -> None:
    """At 90 kN it had come 16 mm of 15: it would not have gone back on the way to 100 kN."""
    short = result(destructive((0, 0), (60, 4), (90, 16), broke="nothing"))

    assert (short.outcome, short.because) == ("failed", "the head came 16.0 mm by 90.0 kN")


def test_a_bolt_that_gives_too_early_fails_and_one_let_go_too_early_cant_be_judged() -> None:
    gave = destructive((0, 0), (80, 9), broke="anchor slipped")
    let_go = destructive((0, 0), (80, 9))

    assert result(gave).outcome == "failed"
    assert result(let_go).outcome == "can't be judged"


def test_a_torque_read_again_is_compared_with_the_least() -> None:
    def turned(nm: str | None, **said: Any) -> str:
        return result(pull(kind="torque", bolt_type="PB24", torque_nm=nm, **said)).outcome

    assert (turned("180"), turned("179")) == ("passed", "failed")
    assert turned(None) == turned("200", rig_checked_at=None) == "can't be judged"


def test_the_failed_test_names_what_the_standard_has_done_next() -> None:
    then = result(slipped()).then

    assert then is not None
    assert then.then == ("neighbours", "batch in doubt", "tell the engineer")
    assert result(held()).then is None
    assert result(held(tested_at=TESTED + timedelta(days=1))).then is None
