"""One line of the bench: ours beside the bare thing, in one run."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from typing import Literal

LEAST_TIMES = 7


@dataclass(frozen=True)
class Ratio:
    """What was measured, beside what, and what was hoped for. Printed, never asserted."""

    what: str
    beside: str
    measured: float
    budget: float
    unit: str = "×"
    sense: Literal["at most", "at least"] = "at most"
    note: str = ""

    def is_met(self) -> bool:
        """Tell whether the budget holds in this run."""
        if self.sense == "at most":
            return self.measured <= self.budget
        return self.measured >= self.budget


def lasted_s(job: Callable[[], object]) -> float:
    """Time one doing of a job. [s]"""
    started = time.perf_counter()
    job()
    return time.perf_counter() - started


def medians_s(*jobs: Callable[[], object], times: int = 9) -> tuple[float, ...]:
    """Time jobs in turn, so that a busy moment of the machine meets all of them alike. [s]"""
    assert times >= LEAST_TIMES, "medians of at least 7"
    rounds = [[lasted_s(job) for job in jobs] for _ in range(times)]
    return tuple(median(column) for column in zip(*rounds, strict=True))
