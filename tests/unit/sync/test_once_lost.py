"""What the simulated share showed once, each as small as it could be made."""

from collections.abc import Iterable

import pytest

from sync.exchange import exchange
from sync.folder import Listed, NotThere, NotYet, ShareFull
from sync.meeting import Meeting
from sync.names import HEADS, STORE, identity
from sync.outcome import Outcome
from sync.tablet_identity import TabletIdentity, read_tablet_identity
from sync.trust import Act
from tests.share.holdings import RECEIPT, ListHoldings
from tests.share.memory_folder import MemoryFolder
from tests.share.mine import ROOT, STORE_JSON, TRUST
from tests.share.strangers import enrolled

HOUR_S = 3600.0


class Unwilling(MemoryFolder):
    """A share that does not do for some files what it is asked."""

    def __init__(self) -> None:
        super().__init__()
        self.files[STORE] = STORE_JSON
        self.in_the_way: tuple[str, ...] = ()
        self.not_seen: tuple[str, ...] = ()
        self.not_listed: tuple[str, ...] = ()
        self.full = False

    def listing(self, path: str) -> Iterable[Listed]:
        return [it for it in super().listing(path) if not it.name.endswith(self.not_listed)]

    def put(self, path: str, content: bytes) -> None:
        if self.full:
            raise ShareFull(self.place)
        if path.endswith(self.in_the_way):
            raise NotYet(path)
        super().put(path, content)

    def read(self, path: str, *, at_most: int) -> bytes:
        if path.endswith(self.not_seen):
            raise NotThere(path)
        return super().read(path, at_most=at_most)

    def ending(self, ending: str) -> list[str]:
        return sorted(path for path in self.files if path.endswith(ending))


def met(
    share: MemoryFolder, tablet: ListHoldings, now_s: float = 0, *, deep: bool = False
) -> Outcome:
    return exchange(Meeting(share, tablet, now_s=lambda: now_s), deep=deep)


def record(share: MemoryFolder, *acts: Act) -> None:
    name, content = TRUST.next_record(acts, ROOT)
    share.files[name.path] = content


@pytest.fixture
def share() -> Unwilling:
    return Unwilling()


@pytest.fixture
def one(share: Unwilling) -> ListHoldings:
    made = ListHoldings(1, TRUST)
    record(share, enrolled(made.tablet_key()), enrolled(ListHoldings(2, TRUST).tablet_key()))
    return made


@pytest.fixture
def other() -> ListHoldings:
    return ListHoldings(2, TRUST)


def id_of(tablet: ListHoldings) -> str:
    return tablet.own_tablets()[-1]


@pytest.mark.parametrize("blocked", [".seg", ".head", "id.json"])
def test_what_is_in_the_way_of_any_file_ends_no_exchange(
    share: Unwilling, one: ListHoldings, other: ListHoldings, blocked: str
) -> None:
    theirs, ours = other.state_something(), one.state_something()
    met(share, other)
    share.in_the_way = (blocked,)

    told = met(share, one)

    assert theirs in one.entries
    assert any(path.endswith(blocked) for path in told.waiting)
    share.in_the_way = ()
    met(share, one, 1)
    met(share, other, 2)
    assert ours in other.entries


def test_a_record_of_trust_that_is_blocked_and_a_repair_end_no_exchange(
    share: Unwilling, one: ListHoldings
) -> None:
    one.state_something()
    met(share, one)
    del share.files[share.ending(".trust")[0]]
    share.files[share.ending(".seg")[0]] = b""
    share.in_the_way = (".trust", ".seg")

    told = met(share, one, HOUR_S)

    assert {path.rpartition(".")[2] for path in told.waiting} == {"trust", "seg"}


def test_a_full_share_is_read_all_the_same(
    share: Unwilling, one: ListHoldings, other: ListHoldings
) -> None:
    theirs = other.state_something()
    met(share, other)
    one.state_something()
    share.full = True

    assert met(share, one).only_read
    assert theirs in one.entries


def test_a_tablet_that_nobody_believes_does_not_acknowledge_the_same_for_ever(
    share: Unwilling, one: ListHoldings
) -> None:
    stranger = ListHoldings(3, TRUST)
    one.state_something()
    met(share, one)

    for now_s in range(5):
        met(share, stranger, now_s)

    assert RECEIPT not in {it.kind for it in stranger.entries}
    files = set(share.files)
    met(share, stranger, 6)
    assert set(share.files) == files


@pytest.mark.parametrize("left", [b"", b"\0" * 200, None])
def test_a_lost_certificate_is_put_back_by_its_tablet(
    share: Unwilling, one: ListHoldings, other: ListHoldings, left: bytes | None
) -> None:
    said = one.state_something()
    met(share, one)
    path = identity(id_of(one))
    del share.files[path]
    if left is not None:
        share.files[path] = left

    met(share, other)
    assert said not in other.entries
    met(share, one, HOUR_S)
    met(share, other, HOUR_S)

    assert said in other.entries


def test_zeros_of_the_right_size_are_found_though_somebody_acknowledged_the_segment(
    share: Unwilling, one: ListHoldings, other: ListHoldings
) -> None:
    one.state_something()
    met(share, one)
    met(share, other)
    met(share, one)
    path = next(it for it in share.ending(".seg") if id_of(one) in it)
    whole = share.files[path]
    share.files[path] = bytes(len(whole))

    met(share, other, HOUR_S, deep=True)

    assert share.files[path] == whole


def test_a_torn_record_of_trust_is_waited_for_and_mended_by_any_holder(
    share: Unwilling, one: ListHoldings, other: ListHoldings
) -> None:
    met(share, one)
    path = share.ending(".trust")[0]
    whole = share.files[path]
    share.files[path] = bytes(len(whole))

    told = met(share, other)

    assert path in told.waiting
    assert not told.refused
    met(share, one, HOUR_S, deep=True)
    assert share.files[path] == whole
    met(share, other, HOUR_S)
    assert other.trust().number == 1


def test_a_listing_that_leaves_a_record_of_trust_out_is_no_alarm(
    share: Unwilling, one: ListHoldings
) -> None:
    met(share, one)
    share.not_listed = (".trust",)

    assert not met(share, one, 1).trust_set_back
    share.not_listed = ()
    del share.files[share.ending(".trust")[0]]
    assert met(share, one, 2).trust_set_back


def test_a_made_up_head_takes_no_tablet_s_key_away(share: Unwilling, one: ListHoldings) -> None:
    one.state_something()
    met(share, one)
    before = id_of(one)
    share.files[f"{HEADS}/{before}.00000009.0123456789abcdef.head"] = b"{}"

    told = met(share, one, 1)

    assert not told.new_identity
    assert id_of(one) == before


def test_a_clone_that_is_only_seen_by_looking_deep_is_noticed_all_the_same(
    share: Unwilling, one: ListHoldings
) -> None:
    one.state_something()
    met(share, one)
    clone = one.copied()
    ours, theirs = one.state_something(), clone.state_something()
    one.seal()
    clone.seal()
    met(share, one)
    for path in share.ending(".head"):
        del share.files[path]

    told = met(share, clone, 1, deep=True)

    assert told.new_identity
    assert {ours, theirs} <= set(clone.entries)


def test_a_clock_that_was_set_back_by_years_does_not_end_the_looking_after(
    share: Unwilling, one: ListHoldings
) -> None:
    one.state_something()
    met(share, one, 10 * 365 * 24 * HOUR_S)
    path = share.ending(".seg")[0]
    whole, share.files[path] = share.files[path], b""

    met(share, one, 0)

    assert share.files[path] == whole


def test_the_head_of_either_branch_is_put_again_where_it_is_lost(
    share: Unwilling, one: ListHoldings
) -> None:
    one.state_something()
    met(share, one)
    clone = one.copied()
    one.state_something()
    met(share, one)
    ours = max(share.ending(".head"))
    for _ in range(2):
        clone.state_something()
        clone.seal()
    met(share, clone, 1)
    met(share, one, 2)
    del share.files[ours]

    met(share, one, 3)

    assert ours in share.files


def test_a_segment_that_two_heads_name_is_fetched_and_counted_once(
    share: Unwilling, one: ListHoldings, other: ListHoldings
) -> None:
    for now_s in range(2):
        one.state_something()
        met(share, one, now_s)

    told = met(share, other, 2)

    assert told.entries_received == 2
    assert len(told.received) == len(set(told.received))


def test_two_genuine_certificates_of_a_tablet_are_not_put_there_in_turns(
    share: Unwilling, one: ListHoldings, other: ListHoldings
) -> None:
    """A newer version may say more of itself, by the same key."""
    one.state_something()
    met(share, one)
    path = identity(id_of(one))
    found = read_tablet_identity(id_of(one), share.files[path])
    assert found is not None
    newer = TabletIdentity.model_validate({**found.says(), "model": "a newer one"})
    also = newer.signed(one.tablet_key()).content()
    assert read_tablet_identity(id_of(one), also) is not None
    share.files[path] = also
    met(share, other)

    met(share, one, HOUR_S, deep=True)
    met(share, other, HOUR_S, deep=True)

    assert share.files[path] == also


def test_a_certificate_in_capitals_is_not_the_one_that_was_written_and_is_put_again(
    share: Unwilling, one: ListHoldings
) -> None:
    one.state_something()
    met(share, one)
    path = identity(id_of(one))
    written = share.files[path]
    found = read_tablet_identity(id_of(one), written)
    assert found is not None
    share.files[path] = written.replace(found.sig.encode(), found.sig.upper().encode())

    assert read_tablet_identity(id_of(one), share.files[path]) is None
    met(share, one, HOUR_S, deep=True)
    assert share.files[path] == written


def test_one_look_at_a_file_that_is_not_seen_proves_nothing(
    share: Unwilling, one: ListHoldings
) -> None:
    one.state_something()
    met(share, one)
    share.written.clear()
    share.not_seen = (".seg",)

    told = met(share, one, HOUR_S, deep=True)

    assert not told.repaired
    assert not share.written
