"""Real tablets with their databases through the simulated share's bad luck."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from sync.trust import Trust
from tests.share.holdings import Numbers
from tests.share.mine import Rules
from tests.share.remembering import remembering
from tests.share.simulated_tablet import SimulatedTablet
from tests.share.simulator import Setting, Simulation


@pytest.fixture
def made() -> Iterator[list[SimulatedTablet]]:
    tablets: list[SimulatedTablet] = []
    yield tablets
    for it in tablets:
        it.store.close()


@pytest.mark.parametrize("seed", range(3))
def test_databases_come_to_the_same_as_the_model_and_lose_nothing(
    tmp_path: Path, made: list[SimulatedTablet], seed: int
) -> None:
    def tablet(number: int, trust: Trust, numbers: Numbers) -> SimulatedTablet:
        return SimulatedTablet(tmp_path / str(number), trust, numbers, made)

    with remembering():
        simulation = Simulation(seed, Setting(rules=Rules(holdings=tablet)))
        assert not simulation.run()

    for machine in simulation.mine.machines:
        holdings = machine.holdings
        assert isinstance(holdings, SimulatedTablet)
        assert {it.line for it in holdings.entries} == holdings.shown()
