"""Tests of support as somebody makes them in the demo's headings, and what they come to."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

from fieldapp.assess.bolt_tests import JudgedTest, PutIn, Result, result_of
from schemas.bodies.bolt_test import BoltTest
from schemas.standard import Standard
from tests.standards import changed

TESTED = datetime(2031, 5, 6, 9, tzinfo=UTC)
STANDARD = changed(lambda document: document)
"""RB24: 85 kN held for 1 min within 10 mm; thread 245 mm² of 500 MPa, 122.5 kN. PB24: 180 N·m."""

Read = tuple[object, ...]


def pull(*readings: Read, **said: Any) -> BoltTest:
    """Give a proof test of a bar at 590.4 m, by a calibrated rig, and what else is said."""
    names = ("load_kn", "displacement_mm", "after_s")
    body = {
        "heading": "heading",
        "kind": "proof pull",
        "tested_at": TESTED,
        "why": "by the standard's share",
        "chainage_m": "590.4",
        "zone": "back",
        "bolt_type": "RB24",
        "rig_checked_at": TESTED - timedelta(days=30),
        "pulled": [dict(zip(names, map(str, it), strict=False)) for it in readings],
    }
    return BoltTest.model_validate(body | said)


HELD = ((0, 0), (40, 2), (85, 4))


def held(**said: Any) -> BoltTest:
    """Give one that passes: 85 kN held for a minute, the head came 4 mm."""
    return pull(*HELD, **{"held_min": 1, **said})


def slipped(**said: Any) -> BoltTest:
    return pull((0, 0), (40, 3), (62, 25), **{"broke": "anchor slipped", **said})


def result(test: BoltTest) -> Result:
    return result_of(test, STANDARD)


def made(name: str, test: BoltTest) -> JudgedTest:
    return JudgedTest(name, test, result(test))


def a_round(number: int, /, **said: Any) -> PutIn:
    """Give an accepted round of 27 bars, 2.7 m long, a day after the one before it."""
    body: dict[str, Any] = {
        "round_id": f"round {number}",
        "number": number,
        "bolts": {"RB24": 27},
        "from_m": Decimal("580.0") + Decimal("2.7") * number,
        "to_m": Decimal("582.7") + Decimal("2.7") * number,
        "per_row": 9,
        "at": TESTED + timedelta(days=number - 10),
        "ground": "as expected",
        "batches": frozenset({"RB24-1"}),
        "crew": "crew A",
    }
    return PutIn(**(body | said))


def changed_to(*, destructive_kn: str) -> Standard:
    """Give the demo's standard with another least load for bars pulled until they give."""

    def change(document: Any) -> None:
        for rule in document["bolt_tests"]:
            if rule.get("kind") == "destructive":
                rule["proof_kn"] = destructive_kn

    return changed(change)


def pulled_to_the_end(load_kn: str, **said: Any) -> BoltTest:
    """Give a bar put in for the test, that gave at a load."""
    said = {"kind": "destructive pull", "part_of_support": False, "broke": "bar", **said}
    return pull((0, 0), (load_kn, 9), **said)


def judged_by(standard: Standard, test: BoltTest) -> JudgedTest:
    return JudgedTest(f"{test.pulled[-1].load_kn}", test, result_of(test, standard))
