"""A stick with exFAT, as sticks are sold: no journal, no links, names in whichever case.

It is a real exFAT file system on an image, by the driver in user space.
"""

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from random import Random
from threading import Event, Thread

import pytest

import sync.durable
from schemas.trouble import Trouble
from sync.names import STORE
from tests.faults.loop_disk import EXFAT, MEGABYTE, LoopDisk, loop_disk, mounted
from tests.faults.share_at_hand import HOUR_S, AtHand, share_at_hand
from tests.faults.test_disk_full import fill
from tests.share.holdings import ListHoldings
from tests.share.mine import STORE_JSON, TRUST

WHAT = "a stick with exFAT"
MEGABYTES = 8
SECTOR = 512
IN_ONE_PIECE = 15
"""A directory keeps the letters of a name in pieces of so many (exFAT, 7.7.3)."""
SEED = 20260305
TEMPORARY = ".tmp"


@pytest.fixture
def stick(tmp_path: Path) -> Iterator[LoopDisk]:
    with loop_disk(tmp_path, megabytes=MEGABYTES, what=WHAT, kind=EXFAT) as made:
        yield made


@pytest.fixture
def at(stick: LoopDisk) -> AtHand:
    return share_at_hand(stick.folder)


def test_the_stick_is_one_as_they_are_sold(stick: LoopDisk) -> None:
    (stick.folder / "Abc").write_bytes(b"one")

    assert (stick.folder / "abc").read_bytes() == b"one"
    with pytest.raises(PermissionError):
        os.link(stick.folder / "Abc", stick.folder / "other")


def test_two_tablets_exchange_by_a_stick(at: AtHand) -> None:
    said = [at.one.state_something(), at.other.state_something()]

    for tablet in (at.one, at.other, at.one):
        at.met(tablet, deep=True)

    assert set(said) <= set(at.one.entries)
    assert set(said) <= set(at.other.entries)
    assert not at.files(TEMPORARY)


def test_a_write_that_stops_short_without_an_error_is_a_full_stick(
    stick: LoopDisk, at: AtHand
) -> None:
    """This system writes what fits of what it is given, and only the next write is an error."""
    large = stick.folder / "large"
    with large.open("wb", buffering=0) as file:
        assert file.write(bytes(MEGABYTES * MEGABYTE)) < MEGABYTES * MEGABYTE
    filler = fill(stick)
    ours = at.one.state_something(body={"note": os.urandom(40_000).hex()})

    told = at.met(at.one)

    assert "no room" in told.only_read
    assert not at.segments()
    assert not at.files(TEMPORARY)
    large.unlink()
    filler.unlink()
    at.met(at.one)
    at.met(at.other)
    assert ours in at.other.entries


@dataclass
class Pulled:
    """Copies of the stick's image, as it was when it was pulled out."""

    stick: LoopDisk
    place: Path
    copies: list[Path] = field(default_factory=list)

    def now(self) -> None:
        """Pull it out: what the system only means to write later is lost."""
        copy = self.place / f"pulled-{len(self.copies)}.img"
        self.copies.append(self.stick.copied_to(copy))

    def before_and_after(self, step: Callable[..., None]) -> Callable[..., None]:
        """Pull it out before and after a step on the disk."""

        def watched(*given: object) -> None:
            self.now()
            step(*given)
            self.now()

        return watched


def states_much(tablet: ListHoldings) -> None:
    for number in range(4):
        tablet.state_something(body={"note": "x" * 3000 * number})
        tablet.seal()


def is_mended_or_refused(at: AtHand, copy: Path, mount: Path) -> bool:
    """Go on with a stick that was pulled out; tell whether it took everything in the end.

    The tablet believes that everything is on it, and only looks again an hour later.
    """
    before = list(at.one.entries)
    one, other = at.one.copied(), ListHoldings(2, TRUST)
    with mounted(copy, mount, what=WHAT, kind=EXFAT) as folder:
        again = AtHand(folder, one, other)
        try:
            again.met(one, HOUR_S, deep=True)
            again.met(other, HOUR_S, deep=True)
        except Trouble:
            return False
    assert one.entries == before
    assert set(before) <= set(other.entries)
    assert len(other.entries) == len(set(other.entries))
    return True


def test_a_stick_that_is_pulled_at_any_step_is_mended_or_refused_and_nothing_is_lost(
    stick: LoopDisk, at: AtHand, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.met(at.one)
    states_much(at.one)
    pulled = Pulled(stick, tmp_path)
    for step in ("_write_through", "_rename", "sync_folder"):
        watched = pulled.before_and_after(getattr(sync.durable, step))
        monkeypatch.setattr(sync.durable, step, watched)
    at.met(at.one)
    monkeypatch.undo()

    mended = [
        is_mended_or_refused(at, copy, tmp_path / f"mount-{number}")
        for number, copy in enumerate(pulled.copies)
    ]

    assert len(mended) > 30
    assert mended.count(True) > len(mended) / 2


@pytest.mark.slow
def test_a_stick_that_is_pulled_at_any_moment_is_mended_or_refused_and_nothing_is_lost(
    stick: LoopDisk, at: AtHand, tmp_path: Path
) -> None:
    at.met(at.one)
    pulled, over, chance = Pulled(stick, tmp_path), Event(), Random(SEED)  # noqa: S311

    def at_random() -> None:
        while not over.wait(chance.uniform(0, 0.05)):
            pulled.now()

    pulling = Thread(target=at_random)
    pulling.start()
    for number in count():
        states_much(at.one)
        at.met(at.one, number)
        if len(pulled.copies) >= 20:
            break
    over.set()
    pulling.join()

    mended = [
        is_mended_or_refused(at, copy, tmp_path / f"mount-{number}")
        for number, copy in enumerate(pulled.copies)
    ]

    assert mended.count(True) > len(mended) / 2


@pytest.mark.parametrize(
    ("lost", "is_mended"),
    [(STORE, False), ("00000001-", True), (".head", True)],
)
def test_a_stick_with_a_damaged_directory_is_mended_or_refused(
    stick: LoopDisk, at: AtHand, tmp_path: Path, lost: str, *, is_mended: bool
) -> None:
    """Refused where nothing says any more whose share it is; the office makes it anew."""
    states_much(at.one)
    at.met(at.one)
    name = next(it.name for it in at.place.rglob("*") if lost in it.name)
    image = stick.copied_to(tmp_path / "damaged.img")
    damaged = zeroed(image.read_bytes(), name[:IN_ONE_PIECE].encode("utf-16-le"))
    image.write_bytes(damaged)

    assert is_mended_or_refused(at, image, tmp_path / "mount") == is_mended


def zeroed(image: bytes, around: bytes) -> bytes:
    """Lose the sectors of a directory in which a name stands."""
    at = image.find(around)
    assert at > 0
    start = at - at % SECTOR
    return image[:start] + bytes(2 * SECTOR) + image[start + 2 * SECTOR :]


def test_a_stick_that_is_made_anew_gets_everything_once_more(at: AtHand, tmp_path: Path) -> None:
    states_much(at.one)
    at.met(at.one)
    (tmp_path / "new").mkdir()
    with loop_disk(tmp_path / "new", megabytes=MEGABYTES, what=WHAT, kind=EXFAT) as new:
        again = share_at_hand(new.folder)
        again.file(STORE).write_bytes(STORE_JSON)

        again.met(at.one, HOUR_S)
        again.met(at.other, HOUR_S)

        assert set(at.one.entries) <= set(at.other.entries)
