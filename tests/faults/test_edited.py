"""Somebody edits the database with another program: the board is never greener for it."""

# ruff: noqa: S608 - the statements are those of somebody who edits a database

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.assess.entry.state import EntryState
from fieldapp.start import open_site
from fieldapp.store.bring_back import bring_back_newest
from fieldapp.store.high_mark import FILE as MARK
from fieldapp.store.lacking import Lacking, RecordsNotWhole
from fieldapp.store.opening import DATABASE
from fieldapp.store.troubles import DatabaseDamaged
from fieldapp.work.board import board
from fieldapp.work.heading_record import RecordUnfit
from fieldapp.work.headings import heading
from fieldapp.work.notices import say_no_entry
from fieldapp.work.site import Site
from fieldapp.work.whole import not_whole
from sync.segment import BrokenSegment
from tests.demo_mine import SetClock, demo_home

GREEN, CLOSED = "4155 Junction", "Wrenfall Decline"
LATER_THAN = 20
"""Most of the demo's story was stated after its twentieth entry."""


@dataclass
class Tablet:
    """A tablet that is switched on and off, and whose files somebody gets at meanwhile."""

    home: Path

    @contextmanager
    def on(self) -> Iterator[Site]:
        site = open_site(self.home, now=SetClock())
        with site.store:
            yield site

    def board(self) -> dict[str, EntryState]:
        with self.on() as site:
            return shown(site)

    def edited(self, *statements: str) -> None:
        with closing(sqlite3.connect(self.home / DATABASE)) as database:
            for statement in statements:
                assert database.execute(statement).rowcount != 0, "the edit hits something"
            database.commit()


@pytest.fixture
def tablet(tmp_path: Path) -> Tablet:
    tablet = Tablet(demo_home(tmp_path / "home"))
    states = tablet.board()
    assert (states[GREEN].state, states[CLOSED].state) == ("entry allowed", "barricaded")
    return tablet


def shown(site: Site) -> dict[str, EntryState]:
    return {row.name: row.entry for row in board(site, site.now())}


def lacking(site: Site) -> Lacking:
    found = site.store.wholeness.lacking
    assert found is not None
    return found


def text(column: str, before: str, after: str) -> str:
    return f"CAST(replace(CAST({column} AS TEXT), '{before}', '{after}') AS BLOB)"


HIDE_NOTICES = "DELETE FROM entry WHERE kind = 'entry_notice'"
NO_SEGMENTS = "DELETE FROM segment"
AS_IF_NEVER = (
    f"DELETE FROM entry WHERE sequence > {LATER_THAN}",
    f"UPDATE sqlite_sequence SET seq = {LATER_THAN} WHERE name = 'entry'",
    NO_SEGMENTS,
    "DELETE FROM bound_part",
)
UNBOUND = "DELETE FROM kept_key WHERE owner = 'records'"

EDITS = {
    "notices deleted": (HIDE_NOTICES,),
    "notices don't count": ("UPDATE entry SET counts = 0 WHERE kind = 'entry_notice'",),
    "notices of no heading": ("UPDATE entry SET heading = NULL WHERE kind = 'entry_notice'",),
    "notices of another kind": ("UPDATE entry SET kind = 'walk' WHERE kind = 'entry_notice'",),
    "a kind that ends early": (
        "UPDATE entry SET kind = kind || char(0) WHERE kind = 'entry_notice'",
    ),
    "a kind in bytes": ("UPDATE entry SET kind = CAST(kind AS BLOB) WHERE kind = 'entry_notice'",),
    "notices of another tablet": (
        "UPDATE entry SET origin = 'aaaaaaaaaaaaaaaa', counts = 0 WHERE kind = 'entry_notice'",
    ),
    "notices and segments deleted": (HIDE_NOTICES, NO_SEGMENTS),
    "as if the last entries never were": AS_IF_NEVER,
    "as if nothing was ever bound": (*AS_IF_NEVER, UNBOUND),
    "what binds is deleted": (HIDE_NOTICES, "DELETE FROM bound_part"),
}


@pytest.mark.parametrize("edits", EDITS.values(), ids=EDITS)
def test_where_something_was_hidden_nobody_is_let_in(
    tablet: Tablet, edits: tuple[str, ...]
) -> None:
    tablet.edited(*edits)

    with tablet.on() as site:
        states = shown(site)
        (told,) = (it for it in not_whole(site) if isinstance(it, RecordsNotWhole))

    assert states[CLOSED].state != "entry allowed"
    assert "entry allowed" not in {it.state for it in states.values()}
    assert states[CLOSED].line_m == 0
    assert states[CLOSED].outbye == "not known"
    assert "These records are not whole: " in str(told)


@pytest.mark.parametrize("edits", EDITS.values(), ids=EDITS)
def test_the_check_tells_it_too(tablet: Tablet, edits: tuple[str, ...]) -> None:
    tablet.edited(*edits)

    with tablet.on() as site, pytest.raises((RecordsNotWhole, DatabaseDamaged, BrokenSegment)):
        site.store.check()


def test_only_the_headings_that_are_touched_are_not_known(tablet: Tablet) -> None:
    before = tablet.board()
    with tablet.on() as site:
        place = heading(site, CLOSED).id
    tablet.edited(f"DELETE FROM entry WHERE heading = '{place}' AND kind = 'entry_notice'")

    with tablet.on() as site:
        after = shown(site)
        assert lacking(site).headings == frozenset({place})

    del before[CLOSED]
    assert after.pop(CLOSED).line_m == 0
    assert after == before


PUT_BACK = [
    name for name, edits in EDITS.items() if not {*edits} & {NO_SEGMENTS} and "binds" not in name
]


@pytest.mark.parametrize("edits", [EDITS[name] for name in PUT_BACK], ids=PUT_BACK)
def test_what_was_sealed_is_put_back_as_it_was(tablet: Tablet, edits: tuple[str, ...]) -> None:
    before = tablet.board()
    tablet.edited(*edits)

    with tablet.on() as site:
        assert lacking(site).can_be_put_back
        assert site.store.wholeness.put_back() is None
        assert shown(site) == before
        site.store.check()
    with tablet.on() as site:
        assert not list(not_whole(site))


def test_what_is_stated_meanwhile_stands_in_no_way_of_putting_back(tablet: Tablet) -> None:
    tablet.edited("DELETE FROM entry WHERE sequence = (SELECT max(sequence) FROM entry)")

    with tablet.on() as site:
        assert lacking(site).can_be_put_back
        say_no_entry(site, GREEN, Decimal(1), None)
        assert site.store.wholeness.put_back() is None
        site.store.check()


def test_what_was_never_sealed_touches_every_heading(tablet: Tablet) -> None:
    with tablet.on() as site:
        say_no_entry(site, GREEN, Decimal(1), None)
    tablet.edited("DELETE FROM entry WHERE sequence = (SELECT max(sequence) FROM entry)")

    with tablet.on() as site:
        assert "entry allowed" not in {it.state for it in shown(site).values()}
        assert lacking(site).headings is None
        assert not lacking(site).can_be_put_back


def test_an_entry_that_this_program_did_not_write_lets_nobody_in(tablet: Tablet) -> None:
    tablet.edited(
        "INSERT INTO entry (revision, kind, thing_id, made_at, clock, line, counts)"
        " VALUES ('00', 'event', 'x', '2031', '0', x'7b7d', 1)"
    )

    with tablet.on() as site:
        assert "entry allowed" not in {it.state for it in shown(site).values()}


def test_segments_that_are_gone_are_told_where_every_entry_is_still_there(
    tablet: Tablet,
) -> None:
    before = tablet.board()
    tablet.edited(NO_SEGMENTS)

    with tablet.on() as site:
        assert shown(site) == before
        assert len(list(not_whole(site))) == 1
        with pytest.raises(RecordsNotWhole):
            site.store.check()


def test_a_line_that_was_altered_is_left_out_and_its_heading_says_so(tablet: Tablet) -> None:
    with tablet.on() as site:
        place = heading(site, CLOSED).id
    milder = text("line", "barrier up", "lifted")
    tablet.edited(
        f"UPDATE entry SET line = {milder} WHERE heading = '{place}' AND kind = 'entry_notice'",
        "DELETE FROM gathered",
    )

    with tablet.on() as site:
        states = shown(site)
        assert lacking(site).headings == frozenset({place})
        assert lacking(site).can_be_put_back

    assert states[CLOSED].state != "entry allowed"
    assert states[CLOSED].line_m == 0
    assert states[GREEN].state == "entry allowed"


REMEMBERED = {
    "milder": text("content", "barrier up", "lifted"),
    "of another kind": "CAST(content AS TEXT)",
    "nothing": "x''",
}


@pytest.mark.parametrize("content", REMEMBERED.values(), ids=REMEMBERED)
def test_what_was_remembered_is_gathered_anew_where_it_was_altered(
    tablet: Tablet, content: str
) -> None:
    before = tablet.board()
    with tablet.on() as site:
        place = heading(site, CLOSED).id
    tablet.edited(f"UPDATE gathered SET content = {content} WHERE heading = '{place}'")

    with tablet.on() as site:
        assert shown(site) == before
        (told,) = not_whole(site)
        assert isinstance(told, RecordUnfit)
        assert CLOSED in told.happened.format(**vars(told))


def test_what_was_remembered_of_one_heading_is_not_believed_of_another(tablet: Tablet) -> None:
    before = tablet.board()
    with tablet.on() as site:
        green, closed = heading(site, GREEN).id, heading(site, CLOSED).id
    columns = ", ".join(
        f"{it} = (SELECT {it} FROM gathered WHERE heading = '{green}')"
        for it in ("content", "bound")
    )
    tablet.edited(f"UPDATE gathered SET {columns} WHERE heading = '{closed}'")

    assert tablet.board() == before


def test_a_mark_that_is_gone_lets_nobody_in_until_a_person_puts_it_back(tablet: Tablet) -> None:
    before = tablet.board()
    (tablet.home / MARK).unlink()

    with tablet.on() as site:
        assert "entry allowed" not in {it.state for it in shown(site).values()}
        assert site.store.wholeness.put_back() is None
        assert shown(site) == before
        site.store.check()


SPOILT: dict[str, Callable[[Path], object]] = {
    "torn": lambda path: path.write_bytes(path.read_bytes()[:-20]),
    "emptied": lambda path: path.write_bytes(b""),
    "lowered": lambda path: path.write_bytes(
        path.read_bytes().replace(b'"newest":', b'"newest":1')
    ),
}


@pytest.mark.parametrize("how", SPOILT.values(), ids=SPOILT)
def test_a_mark_that_this_tablet_did_not_sign_is_none(
    tablet: Tablet, how: Callable[[Path], object]
) -> None:
    how(tablet.home / MARK)

    with tablet.on() as site:
        assert lacking(site).mark


def test_an_older_database_beside_a_newer_mark_is_told(tablet: Tablet) -> None:
    older = tablet.home.parent / "older.db"
    shutil.copy(tablet.home / DATABASE, older)
    with tablet.on() as site:
        say_no_entry(site, GREEN, Decimal(1), None)
        site.store.sealing.seal()
    shutil.copy(older, tablet.home / DATABASE)

    with tablet.on() as site:
        assert "entry allowed" not in {it.state for it in shown(site).values()}
        assert lacking(site).segments


def test_an_older_database_with_its_older_mark_is_not_told_apart(tablet: Tablet) -> None:
    """A limit, stated as one: nothing on the tablet knows of a later day."""
    older = shutil.copytree(tablet.home, tablet.home.parent / "older")
    with tablet.on() as site:
        say_no_entry(site, GREEN, Decimal(1), None)
        site.store.sealing.seal()

    states = Tablet(older).board()

    assert states[GREEN].state == "entry allowed"


def test_what_is_left_can_be_gone_on_with(tablet: Tablet) -> None:
    tablet.edited(HIDE_NOTICES, NO_SEGMENTS)
    with tablet.on() as site:
        assert not lacking(site).can_be_put_back

    bring_back_newest(tablet.home, None, SetClock())

    with tablet.on() as site:
        assert not list(not_whole(site))
        site.store.check()
        site.store.sealing.seal()
        site.store.check()


def test_an_edit_while_the_program_runs_is_seen_at_the_next_look(tablet: Tablet) -> None:
    with tablet.on() as site:
        assert shown(site)[GREEN].state == "entry allowed"
        tablet.edited(HIDE_NOTICES)

        assert "entry allowed" not in {it.state for it in shown(site).values()}
