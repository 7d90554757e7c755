"""What a share brought is carried over out of a damaged database, each piece proved anew."""

import shutil
from pathlib import Path

import pytest

from fieldapp.store import open_store
from fieldapp.store.home import BACKUPS
from fieldapp.store.pairing import NotPaired
from tests.made import entry
from tests.share.strangers import TRUST, Stranger, enrolled, say, states, take
from tests.unit.store.homes import brought_back, filled_home, headless, spoil

BELIEVED, STRANGER = 100, 101


@pytest.fixture
def paired(tmp_path: Path) -> Path:
    """A home that was paired after its backup, with what others sealed."""
    home = filled_home(tmp_path / "home")
    believed, stranger = Stranger(BELIEVED), Stranger(STRANGER)
    with open_store(home) as store:
        store.holdings.pair(TRUST.store, TRUST.root_keys)
        say(store.holdings, enrolled(believed.key), states(entry(400, kind="person")))
        for it, number in ((believed, 200), (stranger, 300)):
            take(store.holdings, it.seals(entry(number)), it.identity)
        store.holdings.begin_anew()
        store.ledger.add([entry(41)])
        store.sealing.seal()
    return home


@pytest.mark.parametrize("with_backup", [True, False])
def test_pairing_trust_and_what_others_sealed_are_carried_over(
    paired: Path, *, with_backup: bool
) -> None:
    others = Stranger(BELIEVED).id, Stranger(STRANGER).id
    with open_store(paired) as store:
        trust, records = store.holdings.trust(), store.holdings.trust_records()
        own, rows = store.holdings.own_tablets(), store.holdings.rows()
        contents = {
            it.name: store.holdings.content(it.name) for tablet in others for it in rows[tablet]
        }
    if not with_backup:
        shutil.rmtree(paired / BACKUPS)
    spoil(paired, headless)
    brought_back(paired)

    with open_store(paired) as store:
        assert store.holdings.trust() == trust
        assert store.holdings.trust_records() == records
        assert {it: store.holdings.content(it) for it in contents} == contents
        assert set(own) < set(store.holdings.own_tablets())
        assert store.ledger.get(entry(200).revision)
        assert store.ledger.get(entry(300).revision) is None, "nobody vouches for it"
        assert store.ledger.get(entry(400, kind="person").revision)
        store.check()


def test_what_it_said_to_hold_is_not_said_again_of_what_it_may_not_hold_now(paired: Path) -> None:
    with open_store(paired) as store:
        row = store.holdings.rows()[Stranger(BELIEVED).id]
        store.holdings.acknowledge([it.name for it in row])
    spoil(paired, headless)
    brought_back(paired)

    with open_store(paired) as store:
        assert not list(store.ledger.of_kind("receipt"))


def test_a_forged_record_of_trust_and_all_that_follow_it_are_left_out(paired: Path) -> None:
    def how(content: bytearray) -> None:
        headless(content)
        record = content.index(b'"act":"enrol tablet"')
        content[record + 8] ^= 1

    spoil(paired, how)
    brought_back(paired)

    with open_store(paired) as store:
        assert store.holdings.trust() == TRUST
        assert store.ledger.get(entry(200).revision) is None


def test_a_segment_whose_bytes_have_changed_is_left_to_the_share(paired: Path) -> None:
    segment, name = Stranger(BELIEVED).seals(entry(200))

    def how(content: bytearray) -> None:
        headless(content)
        content[content.index(segment.content) + 50] ^= 1

    spoil(paired, how)
    brought_back(paired)

    with open_store(paired) as store:
        assert store.holdings.content(name) is None
        assert store.ledger.get(entry(200).revision), "the entry itself can be read"
        store.check()


def test_the_id_of_a_share_is_taken_over_only_in_its_form(paired: Path) -> None:
    shutil.rmtree(paired / BACKUPS)

    def how(content: bytearray) -> None:
        headless(content)
        content[content.index(TRUST.store.encode())] = ord("?")

    spoil(paired, how)
    brought_back(paired)

    with open_store(paired) as store, pytest.raises(NotPaired):
        store.holdings.trust()
