"""The list of bolt tests: what a test left open, what is due, and what was made."""

from datetime import UTC
from typing import Any

import pytest

from fieldapp.report.words.bolt_test import of_words
from fieldapp.ui import bolt_test_list
from tests.unit.work.bolt_tests.test_recording import READINGS, fails, keep
from tests.unit.work.conftest import Shift, shift
from tests.unit.work.test_both_standards import revise

__all__ = ["shift"]

REACHED = {"load_kn": "120", "displacement_mm": "12"}


@pytest.mark.parametrize(
    ("pulled", "outcome"),
    [(READINGS, "can't be judged"), ((*READINGS, REACHED), "passed")],
)
def test_a_support_bolt_that_was_pulled_until_it_gave_stands_behind_what_failed(
    shift: Shift, pulled: Any, outcome: str
) -> None:
    """It is gone whatever it came to, so that it is open like a failed one."""
    keep(shift, all_the_same=True, kind="destructive pull", pulled=pulled)
    fails(shift, chainage_m="591.5")
    failed, gone, *due = bolt_test_list.tests_page(shift.site, "").due

    assert failed.title.endswith("failed")
    assert gone.title.endswith(outcome)
    assert gone.detail.startswith("record its bolt as damage")
    assert {it.verdict for it in due} == {"not looked at", ""}


def made(shift: Shift) -> bolt_test_list.TestLine:
    (line,) = bolt_test_list.tests_page(shift.site, "").made
    return line


def test_a_test_that_was_made_shows_its_readings_and_what_its_bolt_is(shift: Shift) -> None:
    known = keep(shift, bolt="2/5", batch="RB24-0731", crew="crew A").known
    line = made(shift)

    assert line.drawn == bolt_test_list.PullDrawn(((0.0, 0.0), (4.0, 85.0)), 85.0, 10.0)
    assert line.place.endswith("Crew A, batch RB24-0731. Rig 2, calibrated 16 Apr 2031")
    assert line.follows == ""
    assert list(of_words(known.test.model_copy(update={"rig": None, "crew": None}), UTC)) == [
        "Batch RB24-0731",
        "Calibrated 16 Apr 2031",
    ]


def test_a_test_is_judged_by_the_standard_of_its_day_and_says_what_the_newer_one_says(
    shift: Shift,
) -> None:
    def pull_harder(document: Any) -> None:
        for rule in document["bolt_tests"]:
            rule["proof_kn"] = "95"

    keep(shift)
    revise(shift, pull_harder)
    line = made(shift)

    assert line.verdict == "accept"
    assert line.follows == (
        "By S-2 revision 6, in force now: can't be judged: pulled to 85.0 kN only, and it held "
        "that; demanded: 95 kN held for 1 min, slip at most 10 mm."
    )


def test_the_next_test_begins_with_what_is_alike_and_never_with_what_is_read(shift: Shift) -> None:
    """In the same row its number is known; which bolt, and its readings, are asked."""
    known = keep(shift, bolt="2/5", batch="RB24-0731").known
    elsewhere, row = (
        bolt_test_list.another_like(known, same_row=same_row) for same_row in (False, True)
    )
    same_rig = {"kind", "why", "bolt_type", "rig", "rig_checked_at"}

    assert set(elsewhere) == same_rig
    assert set(row) == same_rig | {"chainage_m", "batch", "bolt_row"}
    assert row["bolt_row"] == 2
