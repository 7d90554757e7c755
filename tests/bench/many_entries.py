"""A demo mine that has been at work for long: rounds fired, inspected, looked at and signed."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from itertools import chain, count, islice
from pathlib import Path
from typing import Any

from fieldapp.start import open_site
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, stated
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import person
from fieldapp.work.rounds import last_round
from fieldapp.work.site import Site
from fieldapp.work.writing import SCHEMA_VERSION, new_thing_id
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.entry import Entry, Stated, new_entry
from schemas.logical_clock import LogicalClock
from schemas.part import Part
from schemas.signatures import SigningKey, sign
from tests.demo_mine import CODES, PRESENT, demo_home

ENTRIES = 50_000
HEADINGS = 60
STEP = timedelta(seconds=20)
AT_THE_END = PRESENT + STEP * (ENTRIES + 1)
"""The present of a home with all its entries."""

PATTERN = "4180 Main"
"""A heading of the demo whose last round was fired, inspected, looked at and accepted."""
SIGNER, KEEPER = "Day supervisor", "Records keeper"
JOINT_M, ADVANCE_M = Decimal(100), Decimal("3.2")


@dataclass(frozen=True)
class _Patterns:
    """What each entry is made after: the statements about one round of the demo."""

    place: Known[Heading]
    fired: Event
    inspected: EntryNotice
    seen: Round
    signed: SignOff


@dataclass
class _Writer:
    """Writes entries one after the other, some seconds apart."""

    site: Site
    key: SigningKey
    clock: LogicalClock
    at: datetime = PRESENT

    def entry(self, kind: str, body: Part, author: str) -> Entry:
        self.at += STEP
        self.clock = self.clock.tick(int(self.at.timestamp() * 1000))
        by = Stated(author, self.at, "UTC", self.clock.latest)
        said = body.model_dump(mode="json", exclude_none=True)
        return new_entry(kind, SCHEMA_VERSION, new_thing_id(self.site), said, by)


def many_entries(folder: Path, wanted: int = ENTRIES, headings: int = HEADINGS) -> Path:
    """Make a home with so many entries, in as many headings as a mine advances."""
    home = demo_home(folder)
    site = open_site(home, now=lambda: PRESENT)
    with site.store:
        here = sum(1 for _ in site.store.ledger.all())
        site.store.ledger.add(islice(_records(site, headings), wanted - here))
    return home


def _records(site: Site, headings: int) -> Iterator[Entry]:
    signer, keeper = person(site, SIGNER), person(site, KEEPER)
    last = site.store.ledger.latest_clock(0)
    assert last is not None
    writer = _Writer(site, key_with(site, signer, CODES[SIGNER]), LogicalClock(last))
    patterns = _patterns(site)
    drives = [
        writer.entry("heading", it, keeper.id) for it in _headings(patterns.place.body, headings)
    ]
    rounds = (
        _round(writer, patterns, drive.id, number, signer.id)
        for number in count(1)
        for drive in drives
    )
    return chain(drives, chain.from_iterable(rounds))


def _headings(pattern: Heading, wanted: int) -> Iterator[Heading]:
    for number in range(1, wanted + 1):
        changes = {"face_m": JOINT_M, "last_row_m": JOINT_M, "last_round": 0}
        yield _with(pattern, name=f"Drive {number}", **changes)


def _patterns(site: Site) -> _Patterns:
    place = heading(site, PATTERN)
    seen = last_round(site, place.id)
    assert seen is not None
    notices = stated(site, "entry_notice", EntryNotice)
    return _Patterns(
        place=place,
        fired=stated(site, "event", Event, heading=place.id)[-1].body,
        inspected=next(it.body for it in notices if it.body.what == "inspected"),
        seen=seen.body,
        signed=stated(site, "sign_off", SignOff, round=seen.id)[-1].body,
    )


def _round(
    writer: _Writer, like: _Patterns, drive: str, number: int, author: str
) -> Iterator[Entry]:
    joint_m = JOINT_M + ADVANCE_M * (number - 1)
    at = {"at": writer.at, "excluded_until": writer.at, "fired_m": ADVANCE_M}
    fired = _with(like.fired, heading=drive, chainage_m=joint_m, **at)
    event = writer.entry("event", fired, author)
    inspected = _with(like.inspected, heading=drive, from_m=joint_m, lifts=(event.id,))
    looked = _with(like.seen, heading=drive, number=number, joint_m=joint_m)
    seen = writer.entry("round", looked, author)
    about = {"round": seen.id, "round_revision": seen.revision, "judged_at": writer.at}
    line = {"entry_line_m": joint_m + ADVANCE_M, "signature": None}
    signed = _with(like.signed, heading=drive, **about, **line)
    yield event
    yield writer.entry("entry_notice", inspected, author)
    yield seen
    yield sign(writer.entry("sign_off", signed, author), writer.key)


def _with(body: Any, **changes: object) -> Any:
    return body.model_copy(update=changes)
