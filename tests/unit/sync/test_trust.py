"""Records of trust: only the site's root key says who is believed, one record after the other."""

from datetime import UTC, datetime
from itertools import permutations

import pytest

from schemas.signatures import SigningKey
from sync.names import TrustName, short_hash
from sync.segment import tablet_id
from sync.trust import (
    BrokenTrust,
    EnrolTablet,
    KnownAct,
    Record,
    Renew,
    RevokeTablet,
    Settle,
    State,
    Trust,
)

ROOT, THIEF = SigningKey(b"r" * 32), SigningKey(b"t" * 32)
TABLET = SigningKey(b"1" * 32)
ID = tablet_id(TABLET.public_key)
EMPTY = Trust("0197a5f0-0000-7000-8000-000000000001", (ROOT.public_key,))
AT = datetime(2031, 5, 6, tzinfo=UTC)
ENROL = EnrolTablet(tablet=ID, public_key=TABLET.public_key, name="tablet 1")


def after(trust: Trust, *acts: KnownAct, by: SigningKey = ROOT) -> Trust:
    name, content = trust.next_record(acts, by)
    return trust.with_record(name.path.rpartition("/")[2], content)[0]


def test_nobody_is_believed_before_the_site_says_so() -> None:
    assert not EMPTY.believes(ID, 1)
    assert after(EMPTY, ENROL).believes(ID, 1)


def test_a_record_that_the_root_key_did_not_sign_is_refused() -> None:
    with pytest.raises(BrokenTrust) as told:
        after(EMPTY, ENROL, by=THIEF)

    assert "no root key" in told.value.reason


def test_a_record_can_be_taken_in_once_and_in_its_turn() -> None:
    name, content = EMPTY.next_record([ENROL], ROOT)
    file = name.path.rpartition("/")[2]
    once, _ = EMPTY.with_record(file, content)

    with pytest.raises(BrokenTrust) as told:
        once.with_record(file, content)

    assert "taken in before" in told.value.reason


def test_a_record_of_another_share_is_refused() -> None:
    other = Trust("0197a5f0-0000-7000-8000-000000000002", EMPTY.root_keys)
    name, content = other.next_record([ENROL], ROOT)

    with pytest.raises(BrokenTrust, match="another share"):
        EMPTY.with_record(name.path.rpartition("/")[2], content)


def test_a_record_that_does_not_follow_is_refused() -> None:
    name, content = after(EMPTY, ENROL).next_record([ENROL], ROOT)
    beside = after(EMPTY, ENROL.model_copy(update={"name": "another"}))

    with pytest.raises(BrokenTrust, match="does not follow"):
        beside.with_record(name.path.rpartition("/")[2], content)


def test_a_flipped_bit_is_found_wherever_it_is() -> None:
    name, content = EMPTY.next_record([ENROL], ROOT)
    for place in range(len(content)):
        torn = content[:place] + bytes([content[place] ^ 1]) + content[place + 1 :]
        renamed = TrustName(name.number, short_hash(torn)).path.rpartition("/")[2]
        for file in (name.path.rpartition("/")[2], renamed):
            with pytest.raises(BrokenTrust):
                EMPTY.with_record(file, torn)


def test_a_cut_is_a_position_and_is_never_moved_on() -> None:
    cut = RevokeTablet(tablet=ID, valid_through=12, reason="stolen")
    later = RevokeTablet(tablet=ID, valid_through=40, reason="found again")

    revoked = after(after(after(EMPTY, ENROL), cut), later)

    assert revoked.believes(ID, 12)
    assert not revoked.believes(ID, 13)


def test_the_branch_of_the_earliest_cut_is_kept() -> None:
    early = RevokeTablet(
        tablet=ID, valid_through=12, valid_through_hash16="1" * 16, reason="stolen"
    )
    late = RevokeTablet(tablet=ID, valid_through=40, valid_through_hash16="2" * 16, reason="no")

    for first, second in ((early, late), (late, early)):
        assert after(after(after(EMPTY, ENROL), first), second).ends == {ID: "1" * 16}


def test_enrolling_a_revoked_tablet_once_more_does_not_bring_it_back() -> None:
    cut = RevokeTablet(tablet=ID, valid_through=0, reason="stolen")

    assert not after(after(after(EMPTY, ENROL), cut), ENROL).believes(ID, 1)


# --- rivals ---------------------------------------------------------------------------------

ANN, BEN = (State(line=f'{{"body":{{"name":"{name}"}}}}') for name in ("Ann", "Ben"))
GONE = State(line='{"body":{"name":"Old","revoked":true}}')
OTHER_ID = tablet_id(THIEF.public_key)
OTHER = EnrolTablet(tablet=OTHER_ID, public_key=THIEF.public_key, name="tablet 2")
CUT = RevokeTablet(tablet=ID, valid_through=4, reason="stolen")


def written(trust: Trust, *acts: KnownAct) -> tuple[str, bytes]:
    name, content = trust.next_record(acts, ROOT)
    return name.file, content


def taken(*records: tuple[str, bytes]) -> Trust:
    trust = EMPTY
    for record in records:
        trust, _ = trust.with_record(*record)
    return trust


TRUNK = written(EMPTY, ENROL)
ONE = written(taken(TRUNK), ANN, OTHER)
ANOTHER = written(taken(TRUNK), BEN, GONE, CUT)
ONE_MORE = written(taken(TRUNK, ONE), GONE)
RIVALS = taken(TRUNK, ONE, ANOTHER, ONE_MORE)


def test_rivals_come_to_the_same_in_whatever_order_they_arrive() -> None:
    orders = [
        order
        for order in permutations((TRUNK, ONE, ANOTHER, ONE_MORE))
        if order[0] == TRUNK and order.index(ONE) < order.index(ONE_MORE)
    ]

    assert len(orders) == 3
    assert all(taken(*order) == RIVALS for order in orders)
    assert [it.name.file for it in RIVALS.disputed] == [
        *sorted(it[0] for it in (ONE, ANOTHER)),
        ONE_MORE[0],
    ]


def test_of_rivals_the_stricter_counts() -> None:
    """Whom either revokes is revoked, a tablet is heard, nobody has a role by one alone."""
    assert RIVALS.cuts == {ID: 4}
    assert OTHER_ID in RIVALS.tablets
    assert RIVALS.lines == (GONE.line,)
    assert taken(TRUNK, ONE).lines == (ANN.line,)
    assert not taken(TRUNK, ONE).disputed


def test_the_next_record_follows_the_longer_row_and_settles_nothing_by_itself() -> None:
    after = taken(TRUNK, ONE, ANOTHER, ONE_MORE, written(RIVALS, Renew(at=AT)))

    assert after.number == 4
    assert len(after.branches) == 2
    assert ANN.line not in after.lines


def test_what_the_keeper_settles_stands_and_whom_a_rival_revoked_stays_revoked() -> None:
    settled = written(RIVALS, Settle(rivals=(RIVALS.branches[1].sha256,)), BEN)
    after = taken(TRUNK, ONE, ANOTHER, ONE_MORE, settled)

    assert not after.disputed
    assert set(after.lines) == {ANN.line, BEN.line, GONE.line}
    assert after.cuts == {ID: 4}
    assert after == taken(TRUNK, ANOTHER, ONE, ONE_MORE, settled)


def test_whoever_has_not_heard_of_it_and_goes_on_is_a_rival_again() -> None:
    settled = written(RIVALS, Settle(rivals=(RIVALS.branches[1].sha256,)), BEN)
    unheard = written(taken(TRUNK, ANOTHER), State(line='{"body":{"name":"Eve"}}'))
    after = taken(TRUNK, ONE, ANOTHER, ONE_MORE, settled, unheard)

    assert len(after.branches) == 2
    assert set(after.lines) == {BEN.line, GONE.line}


def test_what_the_site_states_is_given_back_byte_for_byte() -> None:
    name, content = EMPTY.next_record([State(line='{"kind":"person"}')], ROOT)

    _, lines = EMPTY.with_record(name.path.rpartition("/")[2], content)

    assert lines == (b'{"kind":"person"}',)


def test_what_a_newer_version_says_besides_does_nothing_here_and_is_kept() -> None:
    acts: tuple[dict[str, object], ...] = ({"act": "lend tablet", "to": "x"}, ENROL.model_dump())
    record = Record(
        store=EMPTY.store, number=1, prev=EMPTY.last, acts=acts, root_key=ROOT.public_key
    )
    content = record.signed(ROOT).content()
    file = TrustName(1, short_hash(content)).path.rpartition("/")[2]

    trust, _ = EMPTY.with_record(file, content)

    assert trust.believes(ID, 1)
    assert b"lend tablet" in content


def test_the_last_record_that_says_when_it_was_made_tells_how_old_they_are() -> None:
    """Also where the office's clock was put back between two: the later record is the newer."""
    first, second = (Renew(at=datetime(2031, month, 1, tzinfo=UTC)) for month in (9, 5))

    assert after(EMPTY, ENROL).renewed_at is None
    assert after(EMPTY, ENROL, first).renewed_at == first.at
    assert after(after(EMPTY, first), second).renewed_at == second.at
    assert after(after(EMPTY, first), ENROL).renewed_at == first.at
