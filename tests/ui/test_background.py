"""Slow work beside the screen: answers, troubles and bugs arrive on the main thread."""

import threading
import time
from collections.abc import Callable

import pytest

from fieldapp.ui.background import in_background
from fieldapp.ui.density import BadPixelsPerInch
from schemas.trouble import Trouble
from tests.ui.harness import Tablet

pytestmark = pytest.mark.window


def never(fact: object) -> None:
    raise AssertionError(f"nobody expected {fact!r}")


def test_an_answer_arrives_on_the_main_thread(tablet: Tablet) -> None:
    told: list[tuple[str, threading.Thread]] = []

    in_background(
        lambda: threading.current_thread().name,
        then=lambda name: told.append((name, threading.current_thread())),
        on_trouble=never,
    )
    tablet.until(lambda: bool(told))

    ((worker, thread),) = told
    assert worker.startswith("save")
    assert thread is threading.main_thread()


def test_a_trouble_arrives_on_the_main_thread(tablet: Tablet) -> None:
    told: list[tuple[Trouble, threading.Thread]] = []

    def job() -> None:
        raise BadPixelsPerInch(ppi="0")

    in_background(
        job,
        then=never,
        on_trouble=lambda trouble: told.append((trouble, threading.current_thread())),
    )
    tablet.until(lambda: bool(told))

    ((trouble, thread),) = told
    assert isinstance(trouble, BadPixelsPerInch)
    assert thread is threading.main_thread()


def test_a_bug_is_raised_on_the_main_thread(tablet: Tablet) -> None:
    def job() -> float:
        return 1 / 0

    in_background(job, then=never, on_trouble=never)

    with pytest.raises(ZeroDivisionError):
        tablet.wait(2.0)


def test_the_caller_goes_on_at_once(tablet: Tablet) -> None:
    may_end = threading.Event()
    told: list[bool] = []

    in_background(lambda: may_end.wait(5), then=told.append, on_trouble=never)
    tablet.frames(5)
    assert told == []
    may_end.set()
    tablet.until(lambda: bool(told))

    assert told == [True]


def test_a_long_job_holds_up_no_save(tablet: Tablet) -> None:
    may_end = threading.Event()
    told: list[str] = []

    def long_job() -> str:
        may_end.wait(5)
        return "report"

    in_background(long_job, then=told.append, on_trouble=never, lane="long")
    in_background(lambda: "saved", then=told.append, on_trouble=never)
    tablet.until(lambda: bool(told))
    may_end.set()
    tablet.until(lambda: len(told) == 2)

    assert told == ["saved", "report"]


def test_saves_answer_in_the_order_of_the_touches(tablet: Tablet) -> None:
    told: list[int] = []

    def job(number: int) -> Callable[[], int]:
        def slow() -> int:
            time.sleep(0.002 * (number % 3))
            return number

        return slow

    for number in range(12):
        in_background(job(number), then=told.append, on_trouble=never)
    tablet.until(lambda: len(told) == 12)

    assert told == list(range(12))
