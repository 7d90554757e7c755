"""A mine's share through hundreds of unlucky weeks: nothing is lost, and rules are there for a
reason. A bad seed is replayed by `python3 -m tests simulate --seed`.
"""

import time
from collections.abc import Iterator
from itertools import count
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule

from tests.share.remembering import remembering
from tests.share.simulator import STEPS, Setting, Simulation, bad
from tests.share.switches import SWITCHES

AT_LEAST = 500
FOR_S = 45.0
LOST = ("I2", "I3")


@pytest.fixture(autouse=True)
def quick() -> Iterator[None]:
    with remembering():
        yield


def test_no_seed_loses_anything() -> None:
    started = time.monotonic()

    for seed in count():
        assert not bad(seed), f"python3 -m tests simulate --seed {seed}"
        if seed >= AT_LEAST and time.monotonic() - started > FOR_S:
            break


def test_a_seed_is_replayed_exactly() -> None:
    first, again = Simulation(7), Simulation(7)

    assert first.run() == again.run()

    assert first.said == again.said
    assert first.mine.share.there() == again.mine.share.there()
    assert len(first.said) > 1


@pytest.mark.parametrize("dropped", SWITCHES)
def test_without_a_rule_something_is_lost(dropped: str) -> None:
    switch = SWITCHES[dropped]

    with switch.dropped() as setting:
        seed = next((it for it in range(switch.found_within) if loses(it, setting)), None)

    assert seed is not None, f"{switch.found_within} seeds show no need for this rule"
    assert not bad(seed, switch.kept())


def loses(seed: int, setting: Setting) -> bool:
    return any(problem.startswith(LOST) for problem in bad(seed, setting))


class ExchangeMachine(RuleBasedStateMachine):
    """Up to five tablets and an office, by steps that are chosen one by one."""

    def __init__(self) -> None:
        super().__init__()
        self.run: Simulation

    @initialize(seed=st.integers(0, 10_000), cloud=st.booleans(), clone=st.booleans())
    def begin(self, seed: int, cloud: Any, clone: Any) -> None:
        self.run = Simulation(seed, Setting(cloud=cloud, clone=clone))

    @rule()
    def state(self) -> None:
        self.run.take("state")

    @rule()
    def meet(self) -> None:
        self.run.take("meet")

    @rule(step=st.sampled_from(sorted(STEPS)))
    def anything(self, step: str) -> None:
        self.run.take(step)

    def teardown(self) -> None:
        if hasattr(self, "run"):
            assert not self.run.come_to_rest()


TestExchangeMachine = ExchangeMachine.TestCase
TestExchangeMachine.settings = settings(
    max_examples=40, stateful_step_count=60, deadline=None, derandomize=True
)
