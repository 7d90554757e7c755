"""Photos travel after the entries that name them, whole, and are lost only where that is told."""

import hashlib
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.store.backup_file import read_backup
from fieldapp.store.backups import generations, keep_generation
from fieldapp.store.bring_back import bring_back_newest
from fieldapp.store.home import BACKUPS, DATABASE
from fieldapp.store.photo_shelf import FilePhotoShelf
from fieldapp.work.share.exchange import share
from fieldapp.work.site import Site
from fieldapp.work.writing import state
from schemas.bodies.photo import Photo
from sync.names import PhotoName
from sync.outcome import Outcome
from tests.share.sites import Sites, sites_in

CONTENT = b"\xff\xd8 as a camera wrote it " * 1000


class Two:
    """An office that brings photos, and a tablet that takes them."""

    def __init__(self, sites: Sites) -> None:
        self.sites, self.office = sites, sites.office
        self.tablet = sites.tablet("tablet")

    def met(self, site: Site) -> Outcome:
        return self.sites.met(site)

    def take(self, content: bytes = CONTENT) -> PhotoName:
        """Take a photo on the tablet: the file first, then the entry that names it."""
        sha256 = hashlib.sha256(content).hexdigest()
        name = PhotoName("203105", sha256, "jpg")
        self.tablet.store.photos.keep(name, content)
        body = Photo(
            sha256=sha256, size_bytes=len(content), media_type="image/jpeg", month=name.month
        )
        state(self.tablet, "photo", body, author=None)
        return name

    def file(self, name: PhotoName) -> Path:
        return self.sites.root / name.path


@pytest.fixture
def two(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Two]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield Two(sites)


def test_a_photo_arrives_byte_for_byte_and_is_confirmed(two: Two) -> None:
    name = two.take()
    assert two.met(two.tablet).photos_sent == [name.path]
    assert two.met(two.office).photos_received == [name.path]
    two.met(two.tablet)

    assert two.office.store.photos.content(name) == CONTENT
    assert two.tablet.store.photos.acknowledged() == {name.sha256}


@pytest.mark.parametrize("late", [timedelta(0), timedelta(days=40)], ids=["soon", "a month late"])
def test_an_entry_comes_without_its_photo_and_waits_for_it(two: Two, late: timedelta) -> None:
    """However long: a photo lies under the month in which it was taken."""
    name = two.take()
    two.met(two.tablet)
    kept = two.file(name).read_bytes()
    two.file(name).unlink()
    outcome = two.met(two.office)

    assert outcome.photos_waiting == [name.path]
    assert [it.body["sha256"] for it in two.office.store.ledger.of_kind("photo")] == [name.sha256]
    two.sites.clock.at += late
    assert two.met(two.office).photos_waiting == [name.path]
    two.file(name).write_bytes(kept)
    assert two.met(two.office).photos_received == [name.path]


@pytest.mark.parametrize("torn", [b"", CONTENT[:100], CONTENT[:-1] + b"?"])
def test_a_torn_photo_is_not_taken_in_and_is_put_again_by_whoever_has_it(
    two: Two, torn: bytes
) -> None:
    name = two.take()
    two.met(two.tablet)
    two.file(name).write_bytes(torn)
    assert two.met(two.office).photos_received == []

    assert name.path in two.met(two.tablet).repaired
    assert two.met(two.office).photos_received == [name.path]


def test_a_photo_that_was_deleted_before_it_was_shared_is_told_as_lost(two: Two) -> None:
    name = two.take()
    two.tablet.store.photos.path(name).unlink()

    outcome = two.met(two.tablet)

    assert outcome.photos_lost == [name.path]
    assert outcome.photos_sent == []


def test_a_photo_torn_on_the_tablet_is_never_shared(two: Two) -> None:
    name = two.take()
    two.tablet.store.photos.path(name).write_bytes(CONTENT[:50])

    assert two.met(two.tablet).photos_lost == [name.path]
    assert not two.file(name).exists()


def test_keeping_it_again_mends_a_torn_file(two: Two) -> None:
    name = two.take()
    shelf: FilePhotoShelf = two.tablet.store.photos
    shelf.path(name).write_bytes(b"")
    shelf.keep(name, CONTENT)

    assert shelf.content(name) == CONTENT


def test_photos_wait_behind_every_entry(two: Two) -> None:
    """The tablet may be at the surface for two minutes."""
    two.take()
    doing: list[str] = []
    share(two.tablet, str(two.sites.share), watch=lambda progress: doing.append(progress.doing))

    assert "sending photos" in doing
    assert doing.index("sending") < doing.index("sending photos")


def test_what_a_stranger_names_is_not_brought(two: Two) -> None:
    """It counts for nothing until the tablet is enrolled, nor does it fill the office's disk."""
    two.tablet = two.sites.stranger("stranger")
    two.take()
    two.met(two.tablet)
    outcome = two.met(two.office)

    assert outcome.unverified
    assert outcome.photos_received == outcome.photos_waiting == []


# --- backups ----------------------------------------------------------------------------------


def test_a_backup_brings_photos_back_that_were_never_sent(two: Two) -> None:
    sent = two.take(b"sent before" + CONTENT)
    two.met(two.tablet)
    name = two.take()
    backup = two.sites.backed_up(two.tablet)

    back = two.sites.brought_back(backup, "back")

    assert backup.photos == 2
    assert back.store.photos.held() == {sent, name}
    assert back.store.photos.content(name) == CONTENT
    assert two.met(back).photos_sent == [name.path]


def test_a_photo_taken_after_the_backup_is_found_where_it_lies_and_sent(two: Two) -> None:
    assert not keep_generation(two.tablet.store).troubles
    name = two.take()
    home = two.tablet.folder
    two.tablet.store.close()
    content = (home / DATABASE).read_bytes()
    (home / DATABASE).write_bytes(bytes(100) + content[100:])

    bring_back_newest(home, None, two.sites.clock)
    back = two.sites.opened("tablet")

    assert back.store.photos.held() == {name}
    assert two.met(back).photos_sent == [name.path]


def test_after_a_backup_without_photos_only_what_nobody_has_is_told_as_lost(two: Two) -> None:
    sent = two.take()
    two.met(two.tablet)
    lost = two.take(b"never sent" + CONTENT)
    assert not keep_generation(two.tablet.store).troubles
    (generation,) = generations(two.tablet.folder / BACKUPS)

    back = two.sites.brought_back(read_backup(generation.path), "back")
    told = two.met(back)

    assert told.photos_lost == [lost.path]
    assert sent not in back.store.photos.held()
