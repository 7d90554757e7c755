"""``python3 -m tests simulate``: many seeds of the simulated share, or one of them in words."""

import argparse
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from tests.run.suite import say

IN_ONE_GROUP = 50
SAID_EVERY = 1000


def run(words: list[str]) -> int:
    """Run seeds and say which are bad; 0 when none is."""
    asked = _asked(words)
    return _one(asked.seed) if asked.seed is not None else _many(asked.first, asked.seeds)


def _asked(words: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python3 -m tests simulate")
    parser.add_argument("--seeds", type=int, default=1000, help="how many")
    parser.add_argument("--first", type=int, default=0, help="which seed comes first")
    parser.add_argument("--seed", type=int, help="replay this one and say what happened")
    return parser.parse_args(words)


def _many(first: int, seeds: int) -> int:
    """Run seeds side by side, a process for each core."""
    started, found, done = time.monotonic(), 0, 0
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as cores:
        for some, bad_ones in cores.map(_bad_among, _groups(first, seeds)):
            for seed, problem in bad_ones:
                say(f"seed {seed} is bad: {problem}")
                say(f"  replay it: python3 -m tests simulate --seed {seed}")
            found, done = found + len(bad_ones), done + len(some)
            if done % SAID_EVERY == 0:
                say(f"{done} seeds, {found} bad so far")
    lasted_s = time.monotonic() - started
    say(f"{seeds} seeds, {found} bad; {seeds / lasted_s:.1f} seeds a second")
    return int(found > 0)


def _groups(first: int, seeds: int) -> Iterator[range]:
    """Yield the seeds, some at a time."""
    for start in range(first, first + seeds, IN_ONE_GROUP):
        yield range(start, min(start + IN_ONE_GROUP, first + seeds))


def _bad_among(seeds: range) -> tuple[range, list[tuple[int, str]]]:
    """Give which of some seeds are bad, and the first thing that did not hold in each."""
    from tests.share.remembering import remembering
    from tests.share.simulator import bad

    with remembering():
        return seeds, [(seed, problems[0]) for seed in seeds if (problems := bad(seed))]


def _one(seed: int) -> int:
    from tests.share.simulator import Simulation

    simulation = Simulation(seed)
    problems = simulation.run()
    for number, step in enumerate(simulation.said, start=1):
        say(f"{number:4}  {step}")
    for problem in problems:
        say(problem)
    say(f"seed {seed}: {'bad' if problems else 'good'}")
    return int(bool(problems))
