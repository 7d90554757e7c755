"""Slow work off the main thread, and its answer back on it.

Nobody else in the app touches threads. Five lanes, so that a long report never holds up a save
or a look, nor a backup any of them, nor a camera that hangs any of these; within a lane, jobs
run and answer in the order in which they were given.
"""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Literal, TypeVar

from kivy.clock import Clock

from schemas.trouble import Trouble

Answer = TypeVar("Answer")
Lane = Literal["save", "look", "long", "backup", "camera"]

_LANES: dict[Lane, ThreadPoolExecutor] = {
    "save": ThreadPoolExecutor(max_workers=1, thread_name_prefix="save"),
    "look": ThreadPoolExecutor(max_workers=1, thread_name_prefix="look"),
    "long": ThreadPoolExecutor(max_workers=1, thread_name_prefix="long"),
    "backup": ThreadPoolExecutor(max_workers=1, thread_name_prefix="backup"),
    "camera": ThreadPoolExecutor(max_workers=1, thread_name_prefix="camera"),
}


def in_background(
    job: Callable[[], Answer],
    *,
    then: Callable[[Answer], None],
    on_trouble: Callable[[Trouble], None],
    lane: Lane = "save",
) -> None:
    """Run `job` beside the screen, then call one of the two on the main thread.

    Returns at once. A bug in `job` is raised on the main thread, where the app's one handler
    meets it.
    """

    def deliver(future: Future[Answer]) -> None:
        try:
            answer = future.result()
        except Trouble as trouble:
            on_trouble(trouble)
        else:
            then(answer)

    _LANES[lane].submit(job).add_done_callback(
        lambda future: Clock.schedule_once(lambda _elapsed: deliver(future), -1)
    )


def let_finish() -> None:
    """Wait until every job that was given is done, so that nothing begun is lost at the end."""
    for lane in _LANES.values():
        lane.submit(int).result()
