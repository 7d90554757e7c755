"""An office for tests, and a share of the demo mine to fill it from."""

import sqlite3
from collections.abc import Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import psycopg
from sqlalchemy import make_url

from fieldapp.store.office import Office, open_office
from fieldapp.store.office.views import view_statements
from fieldapp.work.collating import AsAt, Collated, Keys, collate_share, work_out_reports
from fieldapp.work.office_lines import WorkedOut
from fieldapp.work.own_keys import site_key_with
from schemas.entry import Entry
from schemas.signatures import SigningKey
from sync.folder import Folder
from sync.local_folder import LocalFolder
from sync.names import STORE, identity
from sync.places import open_folder
from sync.share_identity import ShareIdentity
from sync.trust import Act, EnrolTablet, RevokeTablet, State, Trust
from tests.demo_mine import CODES, PRESENT, SetClock, open_demo
from tests.share.strangers import Stranger

ROOT = SigningKey(b"r" * 32)
STORE_ID = "0197a5f0-0000-7000-8000-000000000001"


@dataclass
class Share:
    """A shared folder that tests write into as tablets and the office do."""

    place: Path
    root: SigningKey = ROOT
    trust: Trust = field(init=False)
    tablets: tuple[Stranger, ...] = ()
    """Those that have sealed what lies in it."""

    def __post_init__(self) -> None:
        self.place.mkdir(parents=True, exist_ok=True)
        self.trust = Trust(STORE_ID, (self.root.public_key,))
        self.folder: Folder = LocalFolder(self.place)
        named = ShareIdentity(
            store=STORE_ID, mine="Wrenfall", demo=True, root_keys=(self.root.public_key,)
        )
        self.folder.put(STORE, named.signed(self.root).content())

    def say(self, *acts: Act) -> None:
        """Have the site write the next record of trust."""
        name, content = self.trust.next_record(acts, self.root)
        self.trust, _ = self.trust.with_record(name.path.rpartition("/")[2], content)
        self.folder.put(name.path, content)

    def enrol(self, *tablets: Stranger) -> None:
        """Have the site believe tablets from now on."""
        self.say(*(_enrolled(number, it) for number, it in enumerate(tablets, 1)))

    def revoke(self, tablet: Stranger, valid_through: int) -> None:
        """Have the site cut a tablet's row."""
        self.say(RevokeTablet(tablet=tablet.id, valid_through=valid_through, reason="stolen"))

    def state(self, *entries: Entry) -> None:
        """Have the site state entries itself: who is enrolled."""
        self.say(*(State(line=it.line.decode()) for it in entries))

    def seal(self, tablet: Stranger, *entries: Entry) -> Path:
        """Have a tablet seal entries into the share; give where the segment lies."""
        segment, name = tablet.seals(*entries)
        self.folder.put(identity(tablet.id), tablet.identity.content())
        self.folder.put(name.path, segment.content)
        return self.file(name.path)

    def file(self, path: str) -> Path:
        """Give where a file of the share lies."""
        return self.place / "lastrow1" / path


def _enrolled(number: int, tablet: Stranger) -> EnrolTablet:
    return EnrolTablet(tablet=tablet.id, public_key=tablet.key.public_key, name=f"tablet {number}")


@dataclass(frozen=True)
class Filled:
    """What one collation came to, reports and all."""

    collated: Collated
    worked: WorkedOut


def fill(address: str, share: Path, *, at: datetime = PRESENT, keys: Keys | None = None) -> Filled:
    """Collate a share into a database and work its reports out, as `lastrow collate` does."""
    with open_office(address) as office:
        return fill_opened(office, share, at=at, keys=keys)


def fill_opened(
    office: Office, share: Path, *, at: datetime = PRESENT, keys: Keys | None = None
) -> Filled:
    """Fill a database that is open."""
    collated = collate_share(office, open_folder(str(share)), keys or Keys())
    return Filled(collated, work_out_reports(office, collated.identity, AsAt(at)))


@dataclass(frozen=True)
class Answer:
    """What a query gave, read by each database's plain driver, as a report tool reads it."""

    columns: tuple[str, ...]
    rows: list[tuple[Any, ...]]


def ask(address: str, query: str) -> Answer:
    """Put a query to a database, past all that is ours."""
    url = make_url(address)
    if url.drivername == "sqlite":
        with closing(sqlite3.connect(str(url.database))) as file:
            cursor = file.execute(query)
            return Answer(tuple(it[0] for it in cursor.description), cursor.fetchall())
    host, port = url.query["host"], url.query["port"]
    words = f"host={host} port={port} user={url.username} dbname={url.database}"
    with psycopg.connect(words) as server:
        asked = server.execute(query.encode())
        assert asked.description
        return Answer(tuple(it.name for it in asked.description), asked.fetchall())


def column(address: str, query: str) -> list[Any]:
    """Give the first column of what a query gives."""
    return [row[0] for row in ask(address, query).rows]


def all_of(address: str, view: str) -> Answer:
    """Give everything that a view shows."""
    return ask(address, f"SELECT * FROM {view}")  # noqa: S608 - a name of ours


def everything(address: str) -> dict[str, list[tuple[Any, ...]]]:
    """Give what every view shows."""
    return {name: same(all_of(address, name).rows) for name in view_statements()}


def same(rows: Iterable[Sequence[Any]]) -> list[tuple[Any, ...]]:
    """Give rows in an order of their own, so that two databases can be compared."""
    return sorted((tuple(row) for row in rows), key=repr)


@dataclass(frozen=True)
class DemoRecords:
    """Everything that was stated at the demo mine, and the key that stands behind its people."""

    root: SigningKey
    people: tuple[Entry, ...]
    entries: tuple[Entry, ...]
    """What people stated, in its order."""


@cache
def demo_records() -> DemoRecords:
    """Read the demo mine once a process."""
    with TemporaryDirectory() as folder:
        site = open_demo(Path(folder) / "home", SetClock())
        with site.store:
            root = site_key_with(site, CODES["site"])
            stated = tuple(site.store.ledger.all())
    people = tuple(it for it in stated if it.kind == "person")
    return DemoRecords(root, people, tuple(it for it in stated if it not in people))


def tablets() -> tuple[Stranger, Stranger, Stranger]:
    """Give three tablets that have sealed nothing yet."""
    return Stranger(100), Stranger(101), Stranger(102)


def demo_share(place: Path, *, of: str | None = None, in_one: int = 8) -> Share:
    """Make a share in which three tablets have sealed what was stated at the demo mine.

    Of one heading only, if one is named.
    """
    records, three = demo_records(), tablets()
    share = Share(place, records.root, tablets=three)
    share.state(*records.people)
    share.enrol(*three)
    stated = [it for it in records.entries if of is None or _is_about(it, of)]
    for number, start in enumerate(range(0, len(stated), in_one)):
        share.seal(three[number % len(three)], *stated[start : start + in_one])
    return share


def _is_about(entry: Entry, name: str) -> bool:
    headings = {it.id: it.body["name"] for it in demo_records().entries if it.kind == "heading"}
    about = entry.id if entry.kind == "heading" else entry.body.get("heading")
    return about is None or headings[str(about)] == name
