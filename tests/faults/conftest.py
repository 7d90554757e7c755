"""Trials of being killed, each in every way: at each step on the disk, and at random.

A module of them says how many kills at steps at least (`LEAST_KILLS`), how many `AT_RANDOM`, and
from which `SEED`.
"""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from fieldapp.store import Store
from tests.cheap_codes import make_codes_cheap
from tests.compiled_once import compile_once
from tests.faults.killed import CALLS, Killing, MakeTrial, Nursery, Trial, nursery, prepared
from tests.new_tables import remember_new_tables
from tests.not_tried import not_tried

compile_once()
make_codes_cheap()
remember_new_tables()


@pytest.fixture(scope="module")
def nurse() -> Iterator[Nursery]:
    with nursery() as started:
        yield started


@pytest.fixture(params=["at every step", "at random"])
def killing(request: pytest.FixtureRequest) -> Killing:
    module = request.module
    if request.param == "at random":
        return lambda trial: trial.killed_at_random(module.AT_RANDOM, module.SEED)
    if not shutil.which("strace"):
        not_tried("killing at every step on the disk", "strace is not installed")
    return lambda trial: trial.killed_at_steps(module.LEAST_KILLS)


@pytest.fixture
def a_trial(tmp_path: Path, nurse: Nursery) -> MakeTrial:
    def made(
        job: str, prepare: Callable[[Store], None], *, calls: tuple[str, ...] = CALLS
    ) -> Trial:
        start = prepared(tmp_path / "start", prepare)
        return Trial(job, start, tmp_path / "trial", nurse, calls)

    return made
