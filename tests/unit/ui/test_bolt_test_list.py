"""The list of bolt tests: what a test left open, what is due, and what was made."""

from typing import Any

import pytest

from fieldapp.ui import bolt_test_list
from tests.unit.work.bolt_tests.test_recording import READINGS, fails, keep
from tests.unit.work.conftest import Shift, shift

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
