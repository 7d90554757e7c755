"""A file of the share that stays bad is reported, mended by whoever holds it, and read again.

Machines here have a database and a home of their own, and the folder between them is real.
"""

import hashlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.report.words.reported import reported_lines
from fieldapp.work.site import Site
from fieldapp.work.writing import state
from schemas.bodies.bad_file import BadFile
from schemas.bodies.photo import Photo
from schemas.bodies.receipt import HeldSegment
from schemas.entry import Entry
from sync.names import PhotoName, SegmentName
from tests.share.sites import Sites, labels, say, sites_in

UNTIL_REPORTED = 5
"""So often a tablet reads a bad file, some minutes apart, until it is none that is arriving."""


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Sites]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield sites


def id_of(site: Site) -> str:
    return site.store.holdings.own_tablets()[-1]


def last_of(site: Site) -> SegmentName:
    return site.store.holdings.rows()[id_of(site)][-1].name


def reports_in(site: Site) -> list[Entry]:
    return list(site.store.ledger.of_kind("bad_file"))


def spoil(at: Sites, path: str) -> None:
    """Fill a file of the share with zeros, as a power cut does."""
    file = at.root / path
    file.write_bytes(bytes(file.stat().st_size))


def said_and_held(at: Sites, *sites: Site) -> SegmentName:
    """Have the first state something that the others hold, then spoil it in the share."""
    say(sites[0], "a bolt")
    at.meet_often(*sites)
    name = min(it.name for it in sites[0].store.holdings.rows()[id_of(sites[0])])
    spoil(at, name.path)
    return name


# --- 25: permanently bad -----------------------------------------------------------------------


def test_a_file_that_stays_bad_is_reported_mended_by_its_owner_and_read(at: Sites) -> None:
    owner = at.tablet("owner")
    name = said_and_held(at, owner)
    reader = at.tablet("reader")
    for _ in range(UNTIL_REPORTED):
        assert not reports_in(reader), "it may be still arriving"
        at.met(reader)

    (told,) = reports_in(reader)
    assert told.body["segment"] == {"tablet": id_of(owner), "seq": name.seq, "hash16": name.hash16}
    assert name.path in reader.store.holdings.bad_files()
    assert labels(reader) == set()
    mended = at.met(owner)
    assert mended.repaired == [name.path]
    at.met(reader)
    assert labels(reader) == {"a bolt"}
    assert not reader.store.holdings.bad_files(), "the quarantine has cleared"
    at.meet_often(owner, reader)
    (line,) = reported_lines(owner)
    assert line.startswith(f"Segment {name.seq} of this machine was bad or missing in the")
    assert "when reader looked" in line
    assert "It is good again: reader read it" in line


def test_a_photo_that_stays_bad_is_reported_by_the_office_and_mended_by_its_tablet(
    at: Sites,
) -> None:
    tablet = at.tablet("tablet")
    content = b"\xff\xd8 a photo of a plate"
    photo = PhotoName("203105", hashlib.sha256(content).hexdigest(), "jpg")
    tablet.store.photos.keep(photo, content)
    body = Photo(
        sha256=photo.sha256, size_bytes=len(content), media_type="image/jpeg", month=photo.month
    )
    state(tablet, "photo", body, author=None)
    at.met(tablet)
    spoil(at, photo.path)
    for _ in range(UNTIL_REPORTED):
        at.met(at.office)

    (told,) = reports_in(at.office)
    assert told.body["photo"] == {
        "month": photo.month, "sha256": photo.sha256, "ending": photo.ending,
    }  # fmt: skip
    assert photo.path in at.met(tablet).repaired
    assert at.met(at.office).photos_received == [photo.path]
    at.meet_often(tablet)
    (line,) = reported_lines(tablet)
    assert line.startswith("A photo of May 2031")


# --- a report that lies ------------------------------------------------------------------------


def lie(site: Site, *names: SegmentName) -> None:
    """State that files are bad, whatever they are."""
    for name in names:
        segment = HeldSegment(tablet=name.tablet, seq=name.seq, hash16=name.hash16)
        body = BadFile(segment=segment, since=site.now(), tries=9)
        state(site, "bad_file", body, author=None)


def test_a_report_that_lies_costs_one_look_and_no_entry(at: Sites) -> None:
    owner, liar = at.tablet("owner"), at.tablet("liar")
    say(owner, "a bolt")
    at.meet_often(owner, liar)
    name = last_of(owner)
    before = (at.root / name.path).stat()
    lie(liar, *[name] * 50)
    at.met(liar)
    sealed = len(owner.store.holdings.rows()[id_of(owner)])

    outcome = at.met(owner)

    assert not outcome.repaired
    assert (at.root / name.path).stat() == before
    assert len(owner.store.holdings.looks()) == 50, "one look at the file answers all of them"
    at.meet_often(owner, liar)
    kinds = [it.kind for it in owner.store.ledger.all()]
    assert kinds.count("bad_file") == 50
    receipts = len(owner.store.holdings.rows()[id_of(owner)]) - sealed
    assert receipts <= 1, "nothing was stated about it but that the liar's segment is held"
    assert next(reported_lines(owner)).endswith("This machine looked, and read it well.")
    assert list(reported_lines(owner))[-1] == "45 more such files."
