"""The count of operations is what was asked, and a delay is one an operation."""

import time

import pytest

from sync.exchange import exchange
from sync.folder import NotThere
from sync.meeting import Meeting
from tests.faults.share_at_hand import two_enrolled_in
from tests.share.counted_folder import CountedFolder
from tests.share.memory_folder import MemoryFolder


def test_what_is_asked_is_counted_by_kind_with_its_bytes() -> None:
    folder = CountedFolder(MemoryFolder())

    folder.put("a/one", b"12345")
    folder.put("a/two", b"1")
    list(folder.listing("a"))
    folder.read("a/one", at_most=2)
    with pytest.raises(NotThere):
        folder.read("a/none", at_most=2)
    folder.remove("a/two")

    assert folder.count.operations == {"put": 2, "listing": 1, "read": 2, "remove": 1}
    assert folder.count.total == 6
    assert (folder.count.names, folder.count.bytes_read, folder.count.bytes_written) == (2, 3, 6)


def test_a_count_begins_anew_with_nothing() -> None:
    folder = CountedFolder(MemoryFolder())
    folder.put("a/one", b"12345")

    assert folder.begin_anew().total == 1
    assert folder.count.total == 0


def test_each_operation_takes_its_delay_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    slept: list[float] = []
    monkeypatch.setattr(time, "sleep", slept.append)
    folder = CountedFolder(MemoryFolder(), delay_s=0.01)

    folder.put("a/one", b"12345")
    list(folder.listing("a"))

    assert slept == [0.01, 0.01]


def test_an_exchange_with_nothing_new_asks_for_three_things_at_most() -> None:
    folder = CountedFolder(MemoryFolder())
    one, other = two_enrolled_in(folder)
    for _ in range(3):
        for tablet in (one, other):
            tablet.state_something()
    for tablet in (one, other, one, other, one, other):
        exchange(Meeting(folder, tablet))
    folder.begin_anew()

    exchange(Meeting(folder, one))

    assert folder.count.total <= 3
    assert not folder.count.bytes_written
