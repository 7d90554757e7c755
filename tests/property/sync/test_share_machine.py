"""Whatever up to five tablets do at one share, in whatever order: all hold the same in the end."""

from collections.abc import Iterator

import pytest
from hypothesis import Phase, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.share.machine import ShareMachine
from tests.share.remembering import remembering
from tests.share.switches import SWITCHES

AS_EVER = settings(max_examples=120, stateful_step_count=50, deadline=None, derandomize=True)
UNTIL_LOST = settings(
    AS_EVER, max_examples=2000, phases=(Phase.generate,), report_multiple_bugs=False
)
"""What is lost is looked for, not made small."""
SHOWN_BY_SEEDS = "an error while reading is a proof, and whoever puts a file does not look"
"""It takes hundreds of runs of fifty steps here, and twenty seeds of `test_simulated_share`."""


@pytest.fixture(autouse=True)
def quick() -> Iterator[None]:
    with remembering():
        yield


def test_nothing_is_lost_doubled_or_made_up() -> None:
    run_state_machine_as_test(ShareMachine, settings=AS_EVER)


@pytest.mark.parametrize("dropped", [it for it in SWITCHES if it != SHOWN_BY_SEEDS])
def test_without_a_rule_something_does_not_hold(dropped: str) -> None:
    with SWITCHES[dropped].dropped() as given:
        lacking = type("Lacking", (ShareMachine,), {"setting": given})

        with pytest.raises(AssertionError, match=r"^I[0-9]+: "):
            run_state_machine_as_test(lacking, settings=UNTIL_LOST)
