"""Support that failed a test is named with its place until it is recorded as damage."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.bolt_tests.failed_support import FailedTest, failed_support
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from tests.unit.assess.bolt_tests.pulls import TESTED, held, made, pulled_to_the_end, slipped

CORES = {"kind": "shotcrete cores", "bolt_type": None, "age_days": 28, "zone": "left wall"}
"""The demo's shotcrete: 30 MPa, mean 85 %, each 75 %, three cores."""


def seen(kind: str = "bolt pulled", **said: Any) -> Damage:
    body = {"heading": "heading", "seen_at": TESTED, "chainage_m": "590.4", "zone": "back"}
    return Damage.model_validate(body | {"kind": kind} | said)


def failed(*tests: BoltTest, damages: tuple[Damage, ...] = ()) -> tuple[FailedTest, ...]:
    return failed_support([made(f"test {n}", it) for n, it in enumerate(tests)], damages)


def cores(*strengths: str, **said: Any) -> BoltTest:
    return held(**{**CORES, "pulled": (), "cores_mpa": strengths, **said})


def test_a_failed_pull_is_named_with_its_place_its_reading_and_what_the_rule_has_done() -> None:
    (one,) = failed(slipped())

    assert one.title == "failed proof pull at 590.4 m, back"
    assert one.because == "the anchor slipped at 62.0 kN"
    assert one.then == (
        "record its bolt as damage; test the nearest bolts; its batch is in doubt; "
        "tell the engineer"
    )


def test_what_passed_or_cant_be_judged_is_none() -> None:
    assert failed(held(), held(rig_checked_at=None)) == ()


def test_a_bolt_put_in_for_the_test_that_gave_too_early_is_no_failed_support() -> None:
    assert failed(pulled_to_the_end("60")) == ()


def test_a_bolt_of_the_support_that_was_pulled_until_it_gave_is_gone_though_it_passed() -> None:
    (one,) = failed(pulled_to_the_end("120", part_of_support=True))

    assert one.title == "bolt pulled to failure at 590.4 m, back"


def test_torque_read_too_low_is_named_too() -> None:
    loose = held(kind="torque", bolt_type="PB24", torque_nm="120", pulled=())

    assert [it.title for it in failed(loose)] == ["failed torque at 590.4 m, back"]


@pytest.mark.parametrize(
    ("stands", "damage"),
    [
        (False, seen()),
        (False, seen("bolt broken", chainage_m="590.7")),
        (False, seen(chainage_m="585.0", to_m="592.0")),
        (True, seen(chainage_m="590.8")),
        (True, seen(zone="left shoulder")),
        (True, seen("rusted")),
        (True, seen(seen_at=TESTED - timedelta(minutes=1))),
    ],
)
def test_it_stands_until_that_very_bolt_is_recorded_as_gone(
    *, stands: bool, damage: Damage
) -> None:
    assert bool(failed(slipped(), damages=(damage,))) is stands


def test_of_two_failed_bolts_one_record_of_damage_answers_one() -> None:
    inbye = slipped(chainage_m="596")

    assert [it.place for it in failed(inbye, slipped())] == ["590.4 m, back", "596.0 m, back"]
    assert [it.place for it in failed(inbye, slipped(), damages=(seen(),))] == ["596.0 m, back"]


def test_failed_cores_stand_until_their_shotcrete_is_damage_or_cores_that_follow_pass() -> None:
    weak = cores("18", "20", "19")
    again = cores("30", "31", "32", why="follows a failed test", after="test 0")
    drummy = seen("shotcrete drummy", zone="left wall", chainage_m="591.2")

    (one,) = failed(weak)
    assert one.title == "failed shotcrete cores at 590.4 m, left wall"
    assert one.then == "record its shotcrete as damage; tell the engineer"
    assert failed(weak, again) == failed(weak, damages=(drummy,)) == ()
    assert failed(weak, damages=(seen("shotcrete weak", zone="left wall"),)) == ()


def test_a_bolt_beside_it_that_holds_says_nothing_of_the_one_that_failed() -> None:
    beside = held(why="follows a failed test", after="test 0", chainage_m="591")

    assert len(failed(slipped(), beside)) == 1


def test_a_place_is_said_to_the_tenth() -> None:
    (one,) = failed(slipped(chainage_m=Decimal("590.44")))

    assert one.place == "590.4 m, back"
