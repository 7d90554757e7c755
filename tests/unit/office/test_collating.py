"""A share is collated into a database: all of it, once, and only what is the site's."""

from pathlib import Path

import pytest

from fieldapp.store.office import open_office
from fieldapp.work.collating import Keys, NotAKey
from sync.collate import AnotherMine, RootKeyDiffers
from sync.segment import MOST_ENTRIES
from tests.made import entry, of_a_newer_version, thing_id
from tests.office import (
    ROOT,
    Share,
    all_of,
    ask,
    column,
    demo_records,
    demo_share,
    everything,
    fill,
    same,
)
from tests.share.strangers import Stranger, receipt
from tests.unit.office.conftest import BOTH, DemoOffice, FilledOnce

ENTRIES = "SELECT revision, kind, thing_id, made_at, round_id, tablet_id, verified FROM entries"


def verified(address: str) -> set[str]:
    return set(column(address, "SELECT revision FROM entries WHERE verified"))


def test_everything_that_was_sealed_comes_in_byte_for_byte(demo_office: DemoOffice) -> None:
    records, address = demo_records(), demo_office.address

    assert demo_office.filled.collated.outcome.entries_received == len(records.entries)
    with open_office(address, filled=True) as office:
        kept = {it.revision: it.line for it in office.ledger.all()}
    assert kept == {it.revision: it.line for it in (*records.entries, *records.people)}
    assert verified(address) == kept.keys()


def test_collated_again_nothing_changes(going_on: DemoOffice) -> None:
    before = everything(going_on.address)

    again = fill(going_on.address, going_on.share.place)

    assert not again.collated.outcome.received
    assert again.worked.judged == 0
    assert everything(going_on.address) == before


def test_both_databases_say_the_same(filled_once: FilledOnce) -> None:
    file, server = (filled_once(kind).address for kind in BOTH)

    for name, rows in everything(file).items():
        found = all_of(server, name)
        assert found.columns == all_of(file, name).columns
        assert same(found.rows) == rows, name


def test_entries_that_come_twice_are_kept_once(address: str, share: Share) -> None:
    one, other = Stranger(1), Stranger(2)
    share.enrol(one, other)
    said = entry(1)
    share.seal(one, said)
    share.seal(other, said, entry(2))

    fill(address, share.place)

    assert sorted(column(address, "SELECT kind FROM entries")) == ["round", "round"]


def test_more_than_a_few_segments_are_opened_by_several_processes(
    address: str, share: Share
) -> None:
    tablet = Stranger(1)
    share.enrol(tablet)
    for number in range(40):
        share.seal(tablet, entry(number))

    filled = fill(address, share.place)

    assert len(filled.collated.outcome.received) == 40
    assert len(column(address, ENTRIES)) == 40


# --- whose share it is ---------------------------------------------------------------------------


def test_the_first_time_the_sites_key_is_told_for_a_person_to_compare(
    address: str, share: Share
) -> None:
    first, second = fill(address, share.place), fill(address, share.place)

    assert first.collated.unproved
    assert len(first.collated.check_numbers) == 1
    assert not second.collated.unproved


def test_a_key_that_is_known_leaves_nothing_to_compare(address: str, share: Share) -> None:
    assert not fill(address, share.place, keys=Keys(said=ROOT.public_key)).collated.unproved


def test_a_share_of_another_mine_is_refused(address: str, share: Share, tmp_path: Path) -> None:
    other = demo_share(tmp_path / "other")
    fill(address, share.place)

    with pytest.raises(AnotherMine):
        fill(address, other.place)
    assert not column(address, ENTRIES)


def test_a_share_under_another_key_than_said_is_refused(address: str, share: Share) -> None:
    with pytest.raises(RootKeyDiffers):
        fill(address, share.place, keys=Keys(said="0" * 64))


def test_a_mine_that_was_started_on_this_machine_is_the_one_that_is_meant(
    address: str, share: Share
) -> None:
    with pytest.raises(RootKeyDiffers):
        fill(address, share.place, keys=Keys(own="0" * 64))

    fill(address, share.place, keys=Keys(said=ROOT.public_key, own="0" * 64))
    fill(address, share.place, keys=Keys(own="0" * 64))


def test_what_is_no_key_is_refused() -> None:
    with pytest.raises(NotAKey):
        Keys(said="my key")


# --- who is believed -----------------------------------------------------------------------------


def test_what_an_unknown_tablet_sealed_is_kept_and_marked_until_it_is_enrolled(
    address: str, share: Share
) -> None:
    known, unknown = Stranger(1), Stranger(2)
    share.enrol(known)
    said, unproved = entry(1), entry(2)
    share.seal(known, said)
    share.seal(unknown, unproved)

    first = fill(address, share.place)

    assert first.collated.outcome.unverified == {unknown.id}
    assert verified(address) == {said.revision}
    assert set(column(address, "SELECT revision FROM entries WHERE NOT verified")) == {
        unproved.revision
    }

    share.enrol(unknown)
    fill(address, share.place)
    assert verified(address) == {said.revision, unproved.revision}


def test_what_a_revoked_tablet_sealed_after_the_cut_is_kept_and_marked(
    address: str, share: Share
) -> None:
    tablet = Stranger(1)
    share.enrol(tablet)
    before, after = entry(1), entry(2)
    share.seal(tablet, before)
    share.seal(tablet, after)
    fill(address, share.place)

    share.revoke(tablet, valid_through=1)
    fill(address, share.place)

    assert verified(address) == {before.revision}
    standing = "SELECT standing, valid_through, entries, unverified_entries FROM tablets"
    assert ask(address, standing).rows == [("revoked", 1, 2, 1)]


def test_a_tablet_that_took_a_new_key_is_believed_as_its_old_one(
    address: str, share: Share
) -> None:
    old = Stranger(1)
    new = Stranger(2, before=old)
    share.enrol(old)
    said = entry(1)
    share.seal(old, entry(0))
    share.seal(new, said)

    fill(address, share.place)

    assert said.revision in verified(address)
    asked = f"SELECT standing, follows FROM tablets WHERE tablet = '{new.id}'"  # noqa: S608
    assert ask(address, asked).rows == [("follows an enrolled key", old.id)]


# --- what only a newer version knows -------------------------------------------------------------


def test_kinds_and_fields_of_a_newer_version_are_kept(address: str, share: Share) -> None:
    tablet = Stranger(1)
    share.enrol(tablet)
    newer = entry(1, {"shape": "unheard of"}, kind="hologram")
    with_field = of_a_newer_version(entry(2), {"smell": "of gas"})
    share.seal(tablet, newer, with_field)

    fill(address, share.place)

    with open_office(address) as office:
        assert {it.line for it in office.ledger.all()} == {newer.line, with_field.line}
    kinds = "SELECT kind FROM entries WHERE verified ORDER BY kind"
    assert column(address, kinds) == ["hologram", "round"]


def test_words_about_receipts_are_entries_like_others(address: str, share: Share) -> None:
    one, other = Stranger(1), Stranger(2)
    share.enrol(one, other)
    _, held = one.seals(entry(1))
    share.seal(other, receipt(held))

    fill(address, share.place)

    assert column(address, "SELECT kind FROM entries") == ["receipt"]


def test_a_full_segment_comes_in_whole(address: str, share: Share) -> None:
    tablet = Stranger(1)
    share.enrol(tablet)
    share.seal(tablet, *(entry(number) for number in range(MOST_ENTRIES)))

    fill(address, share.place)

    assert len(column(address, ENTRIES)) == MOST_ENTRIES


def test_a_name_that_no_database_could_look_up_is_none(address: str, share: Share) -> None:
    """PostgreSQL keeps no NUL in a text and no long text in an index."""
    tablet = Stranger(1)
    share.enrol(tablet)
    odd = [entry(1, {"heading": "a\0b"}), entry(2, {"heading": "x" * 5000, "round": "y" * 9999})]
    named = entry(3, {"heading": thing_id(9), "round": thing_id(8)})
    share.seal(tablet, *odd, named)

    fill(address, share.place)

    rounds = "SELECT round_id FROM entries ORDER BY made_at"
    assert column(address, rounds) == [None, None, thing_id(8)]
    with open_office(address) as office:
        assert [it.line for it in office.ledger.all()] == [it.line for it in (*odd, named)]
