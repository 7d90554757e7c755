"""A damaged database is told at the start, kept as a copy, and what can be read is offered."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from fieldapp.store import Store, open_store
from fieldapp.store.bring_back import BroughtBack, HomeSound, bring_back_newest
from fieldapp.store.engine import Database
from fieldapp.store.journal import WRITE_AHEAD
from fieldapp.store.ledger import SqlLedger
from fieldapp.store.opening import DATABASE, MARKER
from fieldapp.store.troubles import DatabaseDamaged, DatabaseGone, DatabaseSetAside
from schemas.wrapped_key import wrap
from sync.segment import BrokenSegment
from tests.made import PERSON_KEY, STARTED_AT, entry

PAGE = 4096
ENTRIES = tuple(entry(number, {"note": "x" * (number * 97 % 9000)}) for number in range(120))
TOUCHES = tuple(b"touch %d" % number for number in range(40))


def fill(store: Store) -> None:
    store.ledger.add(ENTRIES)
    store.sealing.seal()
    store.drafts.begin("d-1", b"about")
    for line in TOUCHES:
        store.drafts.touch("d-1", line)
    store.drafts.begin("d-2", b"closed")
    store.drafts.finish("d-2", [])
    store.keys.keep(wrap(PERSON_KEY, "4711", owner="p-1", random_bytes=bytes(28), cost=16))


@pytest.fixture
def home(tmp_path: Path) -> Path:
    with open_store(tmp_path / "home") as store:
        fill(store)
    return tmp_path / "home"


def spoil(home: Path, how: Callable[[bytearray], object]) -> bytes:
    path = home / DATABASE
    content = bytearray(path.read_bytes())
    how(content)
    path.write_bytes(content)
    return bytes(content)


def zero(start: int, end: int) -> Callable[[bytearray], object]:
    def how(content: bytearray) -> None:
        content[start:end] = bytes(end - start)

    return how


def cut(part: float) -> Callable[[bytearray], object]:
    def how(content: bytearray) -> None:
        del content[int(len(content) * part) :]

    return how


def told(home: Path) -> DatabaseSetAside:
    with pytest.raises(DatabaseSetAside) as caught:
        open_store(home)
    return caught.value


def brought_back(home: Path) -> BroughtBack:
    return bring_back_newest(home, None, lambda: STARTED_AT)


DAMAGE = {
    "header gone": zero(0, 100),
    "first page gone": zero(0, PAGE),
    "cut in half": cut(0.5),
    "cut to an odd size": cut(0.7001),
    "cut to nothing": cut(0),
    "another file": lambda content: content.__setitem__(slice(None), b"no database at all " * 99),
}


@pytest.mark.parametrize("how", DAMAGE.values(), ids=DAMAGE)
def test_damage_is_told_at_the_start_and_a_copy_is_kept(
    home: Path, how: Callable[[bytearray], object]
) -> None:
    content = spoil(home, how)

    trouble = told(home)

    assert (Path(trouble.copy) / DATABASE).read_bytes() == content
    assert trouble.database == str(home / DATABASE)


def test_damage_in_several_pages_is_told_in_one_line(home: Path) -> None:
    def overwrite(content: bytearray) -> None:
        for page in range(5, len(content) // PAGE, 7):
            content[page * PAGE : (page + 1) * PAGE] = b"\xa5" * PAGE

    spoil(home, overwrite)

    assert len(told(home).sentences()[0].splitlines()) == 1


def test_starting_again_and_again_keeps_one_copy(home: Path) -> None:
    spoil(home, zero(0, 100))

    copies = {told(home).copy for _ in range(3)}

    assert len(copies) == 1
    assert len(list(home.glob("damaged-*"))) == 1


@pytest.mark.parametrize("how", DAMAGE.values(), ids=DAMAGE)
def test_what_can_be_read_is_carried_over_and_nothing_else(
    home: Path, how: Callable[[bytearray], object]
) -> None:
    spoil(home, how)
    readable = told(home).readable

    brought = brought_back(home)

    with open_store(home) as store:
        kept = tuple(store.ledger.all())
        assert len(kept) == brought.entries == brought.read == readable
        assert set(kept) <= set(ENTRIES)
        assert store.check().waiting == readable


def test_with_only_the_header_gone_everything_is_carried_over(home: Path) -> None:
    spoil(home, zero(0, 100))
    brought = brought_back(home)

    with open_store(home) as store:
        assert tuple(store.ledger.all()) == ENTRIES
        assert store.drafts.touches("d-1") == TOUCHES
        assert [draft.draft_id for draft in store.drafts.open_drafts()] == ["d-1"]
        assert store.keys.unlock("p-1", "4711", now=STARTED_AT) == PERSON_KEY
    assert brought.missing == 0


def test_the_tablet_goes_on_by_a_key_of_its_own_that_the_old_one_vouches_for(home: Path) -> None:
    with open_store(home) as store:
        before = store.keys.tablet()
    spoil(home, zero(0, 100))
    brought_back(home)

    with open_store(home) as store:
        identity = store.holdings.identity(store.holdings.own_tablets()[-1])
        assert store.keys.tablet() != before
        assert identity is not None
        assert identity.is_genuine()
        assert identity.predecessor == before.public_key


def test_an_entry_whose_line_is_gone_is_read_in_the_segment_that_it_was_sealed_in(
    home: Path,
) -> None:
    def how(content: bytearray) -> None:
        line = content.index(ENTRIES[100].line)
        content[line : line + 8] = bytes(8)
        content[:100] = bytes(100)

    spoil(home, how)
    brought_back(home)

    with open_store(home) as store:
        assert set(store.ledger.all()) == set(ENTRIES)


def test_half_a_database_gives_half_of_its_entries(home: Path) -> None:
    spoil(home, cut(0.5))

    brought = brought_back(home)

    assert len(ENTRIES) / 5 < brought.entries < len(ENTRIES)


def test_a_touch_that_can_not_be_read_ends_the_draft_there(home: Path) -> None:
    spoil(home, zero(0, 100))
    content = (home / DATABASE).read_bytes()
    place = content.index(TOUCHES[20])
    spoil(home, zero(place, place + 4))

    brought_back(home)

    with open_store(home) as store:
        assert store.drafts.touches("d-1") == TOUCHES[:20]


def test_a_touch_that_has_changed_is_found_and_the_home_can_be_brought_back(home: Path) -> None:
    def how(content: bytearray) -> None:
        content[content.index(TOUCHES[20])] ^= 1

    spoil(home, how)
    with open_store(home) as store, pytest.raises(DatabaseDamaged):
        store.check()

    brought_back(home)

    with open_store(home) as store:
        assert store.drafts.touches("d-1") == TOUCHES[:20]
        assert set(store.ledger.all()) == set(ENTRIES)


def test_damage_that_the_system_can_not_even_put_into_words_is_told(home: Path) -> None:
    """SQLite quotes a table's name that is no text any more; the driver can't read that."""

    def how(content: bytearray) -> None:
        content[content.index(b"entryentry")] |= 0x80
        content[content.index(b"CREATE TABLE entry")] ^= 0x01

    spoil(home, how)
    with pytest.raises(DatabaseSetAside):
        open_store(home)

    assert brought_back(home).entries > len(ENTRIES) / 5


@pytest.mark.parametrize("seed", range(40))
def test_flipped_bits_are_never_taken_for_what_was_written(home: Path, seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - places, not secrets

    def flip(content: bytearray) -> None:
        for _ in range(chance.choice((1, 3, 50))):
            content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)

    spoil(home, flip)
    try:
        with open_store(home) as store:
            store.check()
            assert tuple(store.ledger.all()) == ENTRIES
            assert store.drafts.touches("d-1") == TOUCHES
    except (DatabaseSetAside, DatabaseDamaged, BrokenSegment):
        brought_back(home)

        with open_store(home) as store:
            store.check()
            assert set(store.ledger.all()) <= set(ENTRIES)
            touches = store.drafts.touches("d-1")
            assert touches == TOUCHES[: len(touches)]


def test_a_sound_database_is_not_brought_back(home: Path) -> None:
    before = (home / DATABASE).read_bytes()

    with pytest.raises(HomeSound):
        brought_back(home)

    assert (home / DATABASE).read_bytes() == before


def test_a_database_that_went_missing_is_not_replaced_in_silence(home: Path) -> None:
    (home / DATABASE).unlink()

    with pytest.raises(DatabaseGone) as caught:
        open_store(home)

    assert caught.value.marker == str(home / MARKER)
    assert not (home / DATABASE).exists()


def test_after_the_marker_is_taken_away_a_missing_database_is_made_new(home: Path) -> None:
    (home / DATABASE).unlink()
    (home / MARKER).unlink()

    with open_store(home) as store:
        assert store.check().entries == 0


def test_what_stands_in_the_write_ahead_log_is_read_too(tmp_path: Path) -> None:
    open_store(tmp_path).close()
    database = Database(tmp_path / DATABASE, WRITE_AHEAD)
    SqlLedger(database).add(ENTRIES)
    files = {path.name: path.read_bytes() for path in tmp_path.glob(DATABASE + "*")}
    database.close()
    for name, content in files.items():
        (tmp_path / name).write_bytes(content)
    spoil(tmp_path, zero(0, 100))

    brought_back(tmp_path)

    assert not (tmp_path / (DATABASE + "-wal")).exists()
    with open_store(tmp_path) as store:
        assert tuple(store.ledger.all()) == ENTRIES
