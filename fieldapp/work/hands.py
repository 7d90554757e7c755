"""Other processes of this machine that compute beside this one, and end when it does."""

import gc
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from typing import TypeVar

Given = TypeVar("Given")
Done = TypeVar("Done")

MOST = 8
SELDOM = 100_000
"""What is read here is a tree: looking for rings in it every 700 objects takes a third more."""
AHEAD = 3
"""So many things wait for each process: it never stands idle."""
MOST_HELD = 40
"""So many things, done or not, are held at most: memory stays small."""


@dataclass(frozen=True)
class Hands:
    """Processes that do a job with one thing after the other."""

    _executor: ProcessPoolExecutor
    count: int

    def do(
        self, job: Callable[[Given], Done], given: Iterable[Given]
    ) -> Iterator[tuple[Given, Done]]:
        """Do a job with each thing, and give it with what came of it, in their order.

        While the others have enough to do, this process does it too.
        """
        held: deque[tuple[Given, Future[Done]]] = deque()
        for it in given:
            begun = sum(not done.done() for _, done in held)
            elsewhere = begun < AHEAD * self.count
            held.append((it, self._executor.submit(job, it) if elsewhere else _done(job, it)))
            while held and (held[0][1].done() or len(held) > MOST_HELD):
                first, done = held.popleft()
                yield first, done.result()
        for first, done in held:
            yield first, done.result()


def _done(job: Callable[[Given], Done], given: Given) -> "Future[Done]":
    done: Future[Done] = Future()
    done.set_result(job(given))
    return done


@contextmanager
def hands() -> Iterator[Hands]:
    """Start as many as this machine has to spare."""
    count = min(MOST, max(1, (os.cpu_count() or 1) - 1))
    executor = ProcessPoolExecutor(count, get_context("spawn"), _begin)
    try:
        yield Hands(executor, count)
    finally:
        executor.shutdown(cancel_futures=True)


def _begin() -> None:
    """Be ready to work, and to end when the process that started this one is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # it tells this one when to stop
    gc.set_threshold(SELDOM)
    parent = parent_process()
    assert parent is not None  # noqa: S101 - this runs in a child

    def watch() -> None:
        parent.join()
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()
