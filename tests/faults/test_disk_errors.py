"""The disk answers a step of writing into the share with an error: the kernel's own answer,
given by a tracer in place of the call."""

import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from sync.names import HEADS, ROOT
from tests.faults import share_jobs as jobs
from tests.faults.killed import Nursery, nursery
from tests.faults.nursery import ACKNOWLEDGED, Order
from tests.not_tried import not_tried

ALWAYS = "1+"
A_FILE, THE_FOLDER = 1, 2
"""In which order a file is put: it is synced and closed first, then its folder is."""


@dataclass(frozen=True)
class Left:
    """What came of putting a file, and which files and folders the failing call was made of."""

    told: str
    files: dict[str, bytes]
    called: list[str]

    def temporaries(self) -> list[str]:
        return [path for path in self.called if path.endswith(".tmp")]


Put = Callable[[str, int | str, str], Left]


@pytest.fixture(scope="module")
def nurse() -> Iterator[Nursery]:
    if not shutil.which("strace"):
        not_tried("a disk that answers with errors", "strace is not installed")
    with nursery() as started:
        yield started


@pytest.fixture
def put(tmp_path: Path, nurse: Nursery) -> Put:
    def one(call: str, when: int | str, error: str) -> Left:
        jobs.a_share(tmp_path / "share")
        seen = tmp_path / "seen"
        order = Order(
            "put", str(tmp_path / "share"), call, when, befalls=f"error={error}", seen=str(seen)
        )
        nurse.raised(order)
        told = (tmp_path / ACKNOWLEDGED).read_text().strip()
        heads = tmp_path / "share" / ROOT / HEADS
        files = {it.name: it.read_bytes() for it in heads.iterdir()}
        called = re.findall(rf"^{call}\(\d+<([^>]*)>", seen.read_text(), re.MULTILINE)
        return Left(told, files, called)

    return one


WHOLE = {"one.head": jobs.BYTES}


@pytest.mark.parametrize("call", ["fsync", "close"])
@pytest.mark.parametrize("step", [A_FILE, THE_FOLDER])
def test_after_an_error_of_the_disk_everything_is_written_anew(
    put: Put, call: str, step: int
) -> None:
    left = put(call, step, "EIO")

    assert (left.told, left.files) == ("put", WHOLE)
    assert len(set(left.temporaries())) == 2
    assert len(left.temporaries()) == 2, "no file is synced twice"


@pytest.mark.parametrize("call", ["fsync", "close"])
def test_a_disk_that_always_fails_is_asked_three_times_and_told_of(put: Put, call: str) -> None:
    left = put(call, ALWAYS, "EIO")

    assert (left.told, left.files) == ("ShareFails", {})
    assert len(set(left.called)) == 3
    assert left.called == left.temporaries(), "no file is synced twice"


@pytest.mark.parametrize("error", ["EINVAL", "EOPNOTSUPP", "EBADF", "EACCES", "EPERM"])
def test_a_share_that_can_not_sync_a_folder_is_tolerated(put: Put, error: str) -> None:
    left = put("fsync", THE_FOLDER, error)

    assert (left.told, left.files) == ("put", WHOLE)
    assert len(left.temporaries()) == 1


@pytest.mark.parametrize("call", ["write", "fsync", "close", "rename"])
@pytest.mark.parametrize(
    ("error", "told"),
    [
        ("ENOSPC", "ShareFull"),
        ("EDQUOT", "ShareFull"),
        ("EFBIG", "NotYet"),
        ("EROFS", "ShareReadOnly"),
        ("EBUSY", "NotYet"),
        ("ENOTCONN", "ShareGone"),
    ],
)
def test_whichever_step_fails_leaves_nothing_and_is_told_as_what_it_is(
    put: Put, call: str, error: str, told: str
) -> None:
    left = put(call, 1, error)

    assert (left.told, left.files) == (told, {})
