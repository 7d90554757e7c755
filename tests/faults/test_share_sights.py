"""What a share shows may be old, torn, incomplete, renamed or not there yet: it is only late."""

import errno
import io
from collections.abc import Iterable
from pathlib import Path
from random import Random

import pytest

from sync.folder import Listed, NotThere
from sync.local_folder import LocalFolder
from sync.names import HEADS, STORE
from sync.pulling import ARRIVING_S
from tests.faults.share_at_hand import HOUR_S, AtHand, Watched, sealed_by, share_at_hand
from tests.share.holdings import ListHoldings
from tests.share.mine import STORE_JSON, TRUST
from tests.share.simulated_folder import NONE_AT_ALL, Odds, SimulatedFolder, SimulatedShare


@pytest.fixture
def at(tmp_path: Path) -> AtHand:
    return share_at_hand(tmp_path)


class Old(Watched):
    """Shows for each folder what it showed first."""

    first: dict[str, list[Listed]]

    def listing(self, path: str) -> Iterable[Listed]:
        first = vars(self).setdefault("first", {})
        return list(first.setdefault(path, list(super().listing(path))))


def test_a_listing_that_is_old_only_delays(at: AtHand) -> None:
    old = Old(LocalFolder(at.place))
    at.met(at.one, folder=old, deep=True)
    before = at.one.state_something()
    at.met(at.one, folder=old)
    theirs = at.other.state_something()
    at.met(at.other)
    files = set(at.files())

    at.met(at.one, folder=old, deep=True)

    assert theirs not in at.one.entries
    assert files <= set(at.files())
    at.met(at.one)
    at.met(at.other)
    assert theirs in at.one.entries
    assert before in at.other.entries


class LeavesOut(Watched):
    """Leaves a tenth of the names out, others each time."""

    chance = Random(3)  # noqa: S311  the dice of a test

    def listing(self, path: str) -> Iterable[Listed]:
        return [it for it in super().listing(path) if self.chance.random() > 0.1]


def test_a_listing_that_leaves_names_out_never_deletes_and_never_fetches_again(
    at: AtHand,
) -> None:
    folder = LeavesOut(LocalFolder(at.place))
    said = []
    for number in range(30):
        said.append(at.one.state_something())
        at.met(at.one, number, folder=folder)
    files = {it for it in at.files() if HEADS not in str(it)}
    received = []

    for number in range(30, 40):
        received += at.met(at.other, number, folder=folder, deep=True).received
        at.met(at.one, number, folder=folder, deep=True)

    assert set(said) <= set(at.other.entries)
    assert len(received) == len(set(received))
    assert files <= set(at.files())


def test_a_name_that_is_listed_and_not_there_is_passed_over_until_the_next_time(
    at: AtHand,
) -> None:
    said = at.one.state_something()
    at.met(at.one)

    class NotThereYet(Watched):
        def read(self, path: str, *, at_most: int) -> bytes:
            if path.endswith(".seg"):
                raise NotThere(path)
            return super().read(path, at_most=at_most)

    told = at.met(at.other, folder=NotThereYet(LocalFolder(at.place)))

    assert told.waiting == [sealed_by(at.one)[0].path]
    assert not told.refused
    at.met(at.other)
    assert not at.other.bad_files()
    assert said in at.other.entries


def test_a_file_that_grows_is_arriving_and_not_told_of(at: AtHand) -> None:
    said = at.one.state_something()
    at.met(at.one)
    file = at.segments()[0]
    whole = file.read_bytes()

    for number, size in enumerate((0, 100, 200, len(whole) - 1)):
        file.write_bytes(whole[:size])
        told = at.met(at.other, number * 60)
        assert told.waiting
        assert not told.refused
    file.write_bytes(whole)
    at.met(at.other, 300)

    assert said in at.other.entries
    assert not at.other.bad_files()


def test_a_file_that_stays_torn_is_told_of_mended_by_any_holder_and_forgotten(
    at: AtHand,
) -> None:
    said = at.one.state_something()
    at.met(at.one)
    at.met(at.other)
    third = ListHoldings(3, TRUST)
    path = sealed_by(at.one)[0].path
    file = at.file(path)
    file.write_bytes(bytes(len(file.read_bytes())))

    told = [at.met(third, at_s) for at_s in (0, 1, 2, ARRIVING_S + 1)]

    assert path in told[-1].refused
    assert path in third.bad_files()
    at.met(at.other, HOUR_S, deep=True)
    at.met(third, HOUR_S)
    assert said in third.entries
    assert not third.bad_files()


def test_a_write_that_is_lost_and_reads_back_well_is_found_once_memory_has_faded() -> None:
    share = SimulatedShare(Random(1), Odds(**{**vars(NONE_AT_ALL), "silent_zeros": 1.0}))  # noqa: S311
    one = ListHoldings(1, TRUST)
    said = one.state_something()
    at = AtHand(Path(), one, one)
    folder = SimulatedFolder(share, one.own_tablets)
    share.files[STORE] = STORE_JSON

    at.met(one, 0, folder=folder)
    name = sealed_by(one)[0]
    assert share.files[name.path] != one.content(name)
    assert folder.read(name.path, at_most=10_000) == one.content(name), "from memory"
    share.be_fair()
    share.now_s = 61
    at.met(one, 61, folder=folder)

    assert share.files[name.path] == one.content(name)
    assert said in one.entries
    assert name not in one.acknowledged()


JUNK = (
    "desktop.ini",
    "Thumbs.db",
    ".DS_Store",
    "~$x.seg",
    "00000001-zz.seg",
    "00000001-0123456789abcdef.seg (1)",
    "._00000001-0123456789abcdef.seg",
    "NEW-PC.seg",
)


def test_what_other_programs_leave_is_ignored(at: AtHand) -> None:
    said = at.one.state_something()
    at.met(at.one)
    for folder in (at.segments()[0].parent, at.file(HEADS), at.file("trust"), at.file("tablets")):
        for name in JUNK:
            (folder / name).write_bytes(b"junk")

    told = at.met(at.other, deep=True)

    assert told.entries_received == 1
    assert said in at.other.entries
    assert all((at.file(HEADS) / name).read_bytes() == b"junk" for name in JUNK)


@pytest.mark.parametrize("added", [" (conflicted copy)", " (1)", "-OFFICE-PC"])
@pytest.mark.parametrize("original", [b"", None])
def test_a_conflicted_copy_is_adopted_where_its_bytes_are_right(
    at: AtHand, added: str, original: bytes | None
) -> None:
    said = at.one.state_something()
    at.met(at.one)
    file = at.segments()[0]
    file.rename(file.with_name(f"{file.stem}{added}.seg"))
    if original is not None:
        file.write_bytes(original)

    at.met(at.other, deep=True)

    assert said in at.other.entries


def test_a_conflicted_copy_with_other_bytes_is_left_alone(at: AtHand) -> None:
    at.one.state_something()
    at.met(at.one)
    file = at.segments()[0]
    copy = file.with_name(f"{file.stem} (1).seg")
    copy.write_bytes(file.read_bytes()[:-1])

    told = at.met(at.other, deep=True)

    assert told.entries_received == 1
    assert copy.exists()


def test_what_the_cloud_has_not_brought_down_is_not_here_yet(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = at.one.state_something()
    at.met(at.one)
    opened = Path.open

    def placeholder(path: Path, mode: str = "r") -> io.BufferedReader:
        if path.suffix == ".seg" and "r" in mode:
            raise OSError(errno.EINVAL, "the cloud file provider is not running")
        return opened(path, mode)  # type: ignore[return-value]

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", placeholder)
        told = at.met(at.other, HOUR_S, deep=True)
        at.met(at.one, HOUR_S, deep=True)

    assert sealed_by(at.one)[0].path in told.waiting
    assert not told.refused
    assert not at.other.bad_files()
    at.met(at.other)
    assert said in at.other.entries


@pytest.mark.parametrize("late", ["segments", "certificate", "trust", "first segment"])
def test_files_that_a_cloud_brings_in_any_order_count_once_they_are_all_there(
    at: AtHand, late: str
) -> None:
    said = []
    for number in range(3):
        said.append(at.one.state_something())
        at.met(at.one, number)
    endings = {"segments": ".seg", "certificate": "id.json", "trust": ".trust"}
    files = at.files(endings[late]) if late in endings else at.segments()[:1]
    kept = {it: it.read_bytes() for it in files}
    for it in kept:
        it.unlink()

    before = at.met(at.other, 10)
    assert before.waiting or before.unverified
    assert not set(said) <= set(at.other.entries)
    for it, content in kept.items():
        it.write_bytes(content)
    at.met(at.other, 20)

    assert set(said) <= set(at.other.entries)
