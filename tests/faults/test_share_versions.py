"""Machines of several versions at one share: what a newer one wrote or asks for."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.work.own_keys import site_key_with
from schemas.canonical import canonical_bytes
from schemas.entry import Entry, read_entry
from sync.local_folder import LocalFolder
from sync.names import STORE
from sync.share_identity import read_share_identity
from tests.share.sites import CODE, Sites, labels, say, sites_in


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Sites]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield sites


def newer(entry: Entry, **fields: object) -> Entry:
    content = json.loads(entry.line) | fields
    return read_entry(canonical_bytes(content), source="a newer version")


def test_a_share_that_asks_a_writer_for_more_is_read_and_nothing_is_written(at: Sites) -> None:
    one, other = at.tablet("one"), at.tablet("other")
    say(other, "from the other")
    at.met(other)
    root = site_key_with(at.office, CODE)
    store = at.root / STORE
    old = store.read_bytes()
    found = read_share_identity(LocalFolder(at.share))
    store.write_bytes(found.model_copy(update={"writers_need": ("packs",)}).signed(root).content())
    lay = sorted(at.root.rglob("*"))
    say(one, "waits")
    outcome = at.met(one)

    assert "features that this version doesn't know: packs" in outcome.only_read
    assert labels(one) == {"from the other", "waits"}
    assert sorted(at.root.rglob("*")) == lay
    store.write_bytes(old)
    at.meet_often(one, other)
    assert labels(other) == {"from the other", "waits"}


def test_fields_and_kinds_of_a_newer_version_travel_through_an_older_tablet(at: Sites) -> None:
    one = at.tablet("one")
    known = say(one, "known")
    later = newer(known, kind="drone_flight", id=known.id[:-1] + "0", tilt="3.5")
    must = newer(known, must=["tilting"], id=known.id[:-1] + "1")
    one.store.ledger.add([later, must])
    at.meet_often(one)

    lines = {it.line for it in at.office.store.ledger.all()}
    assert {later.line, must.line} <= lines
    (read_only,) = (it for it in at.office.store.ledger.all() if it.line == must.line)
    assert read_only.read_only
