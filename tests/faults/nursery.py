"""A warmed parent that raises children to be struck: everything is imported once, then forked.

Run as a program of its own, since a test process with threads in it can't be forked safely.
Each line on its input orders one child: the job, its folder, and how it dies. Each line on
its output tells how it ended.

A child stops itself before it begins, so that the tracer is there before its first step.
"""

import gc
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from dataclasses import asdict, dataclass, field
from itertools import count
from pathlib import Path

from sqlalchemy import Connection, Engine, event

from tests.compiled_once import compile_once
from tests.faults import jobs

STATEMENT, COMMIT = "statement", "commit"
COUNTED_HERE = (STATEMENT, COMMIT)
"""What the child counts itself: statements that it hands over, and commits of what it wrote."""
BEGINS_TO_WRITE = ("BEGIN IMMEDIATE", "SELECT pg_advisory_xact_lock")
ACKNOWLEDGED = "acknowledged"
"""Beside the job's folder: what the child was told is kept, a line each."""
WARMED_IN = "warmed"
"""Beside the place of a trial: where the parent does its job once."""


@dataclass(frozen=True)
class Order:
    """One child, and what befalls it.

    It is killed before the `step`-th call of `call`, or `after_s` into its work; or that call
    is answered with what `befalls` says, in the tracer's words. The tracer writes the calls that
    it saw into `seen`.
    """

    job: str
    folder: str
    call: str = ""
    step: int | str = 0
    after_s: float | None = None
    befalls: str = "signal=SIGKILL"
    seen: str = os.devnull


@dataclass(frozen=True)
class Ended:
    """How a child ended, and how long it worked."""

    killed: bool
    code: int
    lasted_s: float


def _child(order: Order) -> None:
    folder = Path(order.folder)
    said = os.open(folder.with_name(ACKNOWLEDGED), os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    if order.call == STATEMENT:
        _die_before(int(order.step))
    if order.call == COMMIT:
        _die_before_commit(int(order.step))
    os.kill(os.getpid(), signal.SIGSTOP)
    jobs.JOBS[order.job](folder, lambda what: os.write(said, what.encode() + b"\n"))


def _die_before(statement: int) -> None:
    numbers = count(1)

    @event.listens_for(Engine, "before_cursor_execute")
    def _die(*_: object) -> None:
        if next(numbers) == statement:
            os.kill(os.getpid(), signal.SIGKILL)


def _die_before_commit(number: int) -> None:
    numbers = count(1)

    @event.listens_for(Engine, "before_cursor_execute")
    def _note(connection: Connection, _cursor: object, statement: str, *_: object) -> None:
        if statement.startswith(BEGINS_TO_WRITE):
            connection.info[COMMIT] = True

    @event.listens_for(Engine, "commit")
    def _die(connection: Connection) -> None:
        if connection.info.pop(COMMIT, False) and next(numbers) == number:
            os.kill(os.getpid(), signal.SIGKILL)


@dataclass
class Parent:
    """The process from which children are forked, warm with what a job does for the first time."""

    done: set[str] = field(default_factory=set)

    def warm(self, order: Order) -> None:
        """Do a job once beside its folder: a child that learns for half its life dies learning."""
        if order.job in self.done:
            return
        self.done.add(order.job)
        if order.job in jobs.WARMS:
            jobs.WARMS[order.job]()
            return
        folder = Path(order.folder)
        beside = folder.parent.with_name(WARMED_IN) / folder.name
        beside.parent.mkdir()
        if folder.exists():
            shutil.copytree(folder, beside)
        jobs.JOBS[order.job](beside, lambda _what: None)
        shutil.rmtree(beside.parent)
        assert threading.active_count() == 1, "a process with threads in it can't be forked safely"
        gc.collect()
        gc.freeze()  # so that looking for garbage copies nothing of the parent's into a child


def _raise_one(order: Order) -> Ended:
    pid = os.fork()
    if pid == 0:
        code = 1
        try:
            _child(order)
            code = 0
        finally:
            os._exit(code)
    os.waitpid(pid, os.WUNTRACED)
    tracer = _traced(pid, order) if order.call not in ("", *COUNTED_HERE) else None
    started = time.monotonic()
    os.kill(pid, signal.SIGCONT)
    if order.after_s is not None:
        time.sleep(order.after_s)
        os.kill(pid, signal.SIGKILL)
    _, status = os.waitpid(pid, 0)
    lasted_s = time.monotonic() - started
    if tracer:
        tracer.wait()
    killed = os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
    return Ended(killed, status, lasted_s)


def _traced(pid: int, order: Order) -> "subprocess.Popen[str]":
    """Set a tracer on a stopped child; it strikes as the child enters the call."""
    strike = f"inject={order.call}:{order.befalls}:when={order.step}"
    command = ["strace", "-y", "-o", order.seen, "-e", f"trace={order.call}", "-e", strike]
    tracer = subprocess.Popen(  # noqa: S603
        [*command, "-p", str(pid)], stderr=subprocess.PIPE, text=True
    )
    assert tracer.stderr
    said = tracer.stderr.readline()
    if "attached" not in said:
        os.kill(pid, signal.SIGKILL)
        raise RuntimeError(f"strace can't trace here: {said}")
    return tracer


if __name__ == "__main__":
    compile_once()
    parent = Parent()
    for line in sys.stdin:
        ordered = Order(**json.loads(line))
        parent.warm(ordered)
        ended = _raise_one(ordered)
        sys.stdout.write(json.dumps(asdict(ended)) + "\n")
        sys.stdout.flush()
