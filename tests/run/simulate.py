"""``python3 -m tests simulate``: many seeds of the simulated share, or one of them in words."""

import argparse
import time

from tests.run.suite import say


def run(words: list[str]) -> int:
    """Run seeds and say which are bad; 0 when none is."""
    from tests.share.remembering import remembering

    asked = _asked(words)
    with remembering():
        return _one(asked.seed) if asked.seed is not None else _many(asked.first, asked.seeds)


def _asked(words: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python3 -m tests simulate")
    parser.add_argument("--seeds", type=int, default=1000, help="how many")
    parser.add_argument("--first", type=int, default=0, help="which seed comes first")
    parser.add_argument("--seed", type=int, help="replay this one and say what happened")
    return parser.parse_args(words)


def _many(first: int, seeds: int) -> int:
    from tests.share.simulator import bad

    started, found = time.monotonic(), 0
    for seed in range(first, first + seeds):
        if problems := bad(seed):
            found += 1
            say(f"seed {seed} is bad: {problems[0]}")
            say(f"  replay it: python3 -m tests simulate --seed {seed}")
    lasted_s = time.monotonic() - started
    say(f"{seeds} seeds, {found} bad; {seeds / lasted_s:.1f} seeds a second")
    return int(found > 0)


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
