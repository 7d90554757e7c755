"""A tablet is killed or loses power at each step of an exchange: nothing is lost or doubled."""

from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from sync.folder import Listed
from sync.local_folder import LocalFolder
from tests.faults.share_at_hand import HOUR_S, AtHand, Watched, sealed_by, share_at_hand
from tests.share.simulated_folder import Killed

SEGMENT, HEAD = ".seg", ".head"


@pytest.fixture
def at(tmp_path: Path) -> AtHand:
    return share_at_hand(tmp_path)


def ends_with(ending: str) -> Callable[[str], bool]:
    return lambda path: path.endswith(ending)


def test_killed_before_it_sealed_a_tablet_sends_with_the_next_exchange(at: AtHand) -> None:
    said = at.one.state_something()

    class DiesListing(Watched):
        def listing(self, path: str) -> Iterable[Listed]:
            raise Killed(path)

    with pytest.raises(Killed):
        at.met(at.one, folder=DiesListing(LocalFolder(at.place)))
    assert not sealed_by(at.one)

    at.met(at.one)
    at.met(at.other)
    assert said in at.other.entries


def test_killed_between_sealing_and_writing_it_puts_the_same_bytes_under_the_same_name(
    at: AtHand,
) -> None:
    at.one.state_something()
    with pytest.raises(Killed):
        at.met(at.one, folder=Watched(LocalFolder(at.place), killed_before=ends_with(SEGMENT)))
    sealed = sealed_by(at.one)
    assert len(sealed) == 1
    assert not at.segments()

    at.met(at.one)

    assert sealed_by(at.one) == sealed
    assert at.file(sealed[0].path).read_bytes() == at.one.content(sealed[0])


def test_killed_while_it_wrote_what_it_left_is_ignored_and_its_owner_clears_it_away(
    at: AtHand,
) -> None:
    at.one.state_something()
    at.met(at.one)
    left = at.segments()[0].with_name("t-0123456789abcdef.tmp")
    left.write_bytes(b"half of a segm")

    read = at.met(at.other, deep=True)

    assert left.exists(), "somebody else's"
    assert not read.refused
    at.met(at.one, deep=True)
    assert not left.exists()


def test_killed_between_segment_and_head_the_next_exchange_puts_the_head(at: AtHand) -> None:
    said = at.one.state_something()
    with pytest.raises(Killed):
        at.met(at.one, folder=Watched(LocalFolder(at.place), killed_after=ends_with(SEGMENT)))
    assert not at.files(HEAD)

    at.met(at.one)
    at.met(at.other)
    assert said in at.other.entries


def test_lost_between_segment_and_head_a_tablet_is_found_by_looking_deep(at: AtHand) -> None:
    said = at.one.state_something()
    with pytest.raises(Killed):
        at.met(at.one, folder=Watched(LocalFolder(at.place), killed_after=ends_with(SEGMENT)))

    at.met(at.other, deep=True)

    assert said in at.other.entries


def test_killed_after_the_head_it_starts_over_and_nothing_is_there_twice(at: AtHand) -> None:
    said = at.one.state_something()
    with pytest.raises(Killed):
        at.met(at.one, folder=Watched(LocalFolder(at.place), killed_after=ends_with(HEAD)))
    before = [(it, it.read_bytes()) for it in at.files()]

    at.met(at.one)

    assert [(it, it.read_bytes()) for it in at.files()] == before
    at.met(at.other)
    assert at.other.entries.count(said) == 1


@pytest.mark.parametrize("left", ["nothing", "zeros", "a part"])
def test_a_power_cut_that_leaves_a_name_without_its_bytes_is_mended_by_the_owner(
    at: AtHand, left: str
) -> None:
    said = at.one.state_something()
    at.met(at.one)
    file = at.segments()[0]
    whole = file.read_bytes()
    file.write_bytes({"nothing": b"", "zeros": bytes(len(whole)), "a part": whole[:90]}[left])

    assert not at.met(at.other).received
    at.met(at.one, HOUR_S)

    assert file.read_bytes() == whole
    at.met(at.other, HOUR_S)
    assert said in at.other.entries


def test_a_power_cut_that_loses_the_name_is_mended_by_the_owner(at: AtHand) -> None:
    at.one.state_something()
    at.met(at.one)
    at.segments()[0].unlink()

    mended = at.met(at.one, HOUR_S)

    assert mended.repaired
    assert at.segments()
