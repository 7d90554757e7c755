"""Two tablets and an office meet at a share: everything arrives, once, and nothing else."""

from collections.abc import Iterator
from pathlib import Path
from typing import TypeAlias

import pytest

from schemas.signatures import SigningKey
from sync.exchange import exchange
from sync.meeting import Meeting
from sync.names import STORE
from sync.outcome import Outcome
from sync.segment import tablet_id
from sync.share_identity import AnotherShare, NoShareHere, ShareIdentity
from sync.trust import EnrolTablet, RevokeTablet, Trust
from tests.share.memory_folder import MemoryFolder
from tests.share.tablets import KINDS, MakeTablet, Tablet, tablets

ROOT = SigningKey(b"r" * 32)
SHARE = "0197a5f0-0000-7000-8000-000000000001"
TRUST = Trust(SHARE, (ROOT.public_key,))

Two: TypeAlias = tuple[MemoryFolder, Tablet, Tablet]


def share() -> MemoryFolder:
    folder = MemoryFolder()
    identity = ShareIdentity(store=SHARE, mine="Wrenfall", root_keys=(ROOT.public_key,))
    folder.files[STORE] = identity.signed(ROOT).content()
    return folder


def enrol(folder: MemoryFolder, *enrolled: Tablet) -> None:
    acts = [
        EnrolTablet(
            tablet=tablet_id(it.tablet_key().public_key),
            public_key=it.tablet_key().public_key,
            name=f"tablet {number}",
        )
        for number, it in enumerate(enrolled, start=1)
    ]
    name, content = TRUST.next_record(acts, ROOT)
    folder.files[name.path] = content


def met(folder: MemoryFolder, tablet: Tablet, now_s: float = 0, *, deep: bool = False) -> Outcome:
    return exchange(Meeting(folder, tablet, now_s=lambda: now_s), deep=deep)


@pytest.fixture(params=KINDS)
def make(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[MakeTablet]:
    with tablets(request.param, tmp_path, TRUST) as made:
        yield made


@pytest.fixture
def two(make: MakeTablet) -> Two:
    folder, one, other = share(), make(1), make(2)
    enrol(folder, one, other)
    return folder, one, other


def test_what_one_states_the_other_gets(
    two: Two,
) -> None:
    folder, one, other = two
    said = [one.state_something() for _ in range(3)]

    met(folder, one)
    came = met(folder, other)

    assert came.entries_received == 3
    assert [it for it in other.entries if it.kind == "event"] == said


def test_nothing_new_costs_three_reads_and_no_write(
    two: Two,
) -> None:
    folder, one, other = two
    for _ in range(250):
        one.state_something()
    for at_s, tablet in enumerate((one, other, one, other, one, other)):
        met(folder, tablet, at_s)
    folder.asked, folder.written = [], []

    met(folder, one, 7)

    assert folder.asked == ["read store.json", "list heads/mine", "list trust"]
    assert not folder.written


def test_only_an_enrolled_tablet_is_believed(make: MakeTablet) -> None:
    folder, stranger, other = share(), make(1), make(2)
    said = stranger.state_something()
    met(folder, stranger)

    came = met(folder, other)

    assert said not in other.entries
    assert came.unverified == set(stranger.own_tablets())

    enrol(folder, stranger, other)
    met(folder, other)

    assert said in other.entries


def test_what_a_revoked_tablet_sealed_after_its_cut_does_not_count(
    two: Two,
) -> None:
    folder, one, other = two
    before = one.state_something()
    met(folder, one)
    met(folder, other)
    cut = RevokeTablet(tablet=one.own_tablets()[0], valid_through=1, reason="stolen")
    name, content = other.trust().next_record([cut], ROOT)
    folder.files[name.path] = content
    after = one.state_something()
    met(folder, one)

    met(folder, other)

    assert before in other.entries
    assert after not in other.entries


def test_whoever_took_a_tablet_cannot_go_back_behind_the_cut(two: Two) -> None:
    """They have its key, and seal others under numbers that the office believes."""
    folder, one, other = two
    one.state_something()
    met(folder, one)
    thief = one.copied()
    before = one.state_something()
    met(folder, one)
    met(folder, other)
    tablet = one.own_tablets()[0]
    last = max(it.name for it in other.rows()[tablet])
    cut = RevokeTablet(
        tablet=tablet,
        valid_through=last.seq,
        valid_through_hash16=last.hash16,
        reason="stolen",
    )
    name, content = other.trust().next_record([cut], ROOT)
    folder.files[name.path] = content
    forged = thief.state_something()
    own_share = MemoryFolder()
    own_share.files = {STORE: folder.files[STORE]}
    met(own_share, thief)
    folder.files |= {path: it for path, it in own_share.files.items() if path not in folder.files}

    met(folder, other, deep=True)

    assert {it.name.seq for it in other.rows()[tablet]} == {1, 2}
    assert len(other.rows()[tablet]) == 3
    assert before in other.entries
    assert forged not in other.entries


def test_a_lost_segment_is_put_back_by_whoever_holds_it(
    two: Two,
) -> None:
    folder, one, other = two
    one.state_something()
    met(folder, one)
    met(folder, other)
    lost = next(path for path in folder.files if path.endswith(".seg"))
    folder.files[lost] = b""

    met(folder, other, 100, deep=True)

    assert folder.files[lost]


def test_a_torn_segment_is_waited_for_and_then_told_of(
    two: Two,
) -> None:
    folder, one, other = two
    one.state_something()
    met(folder, one)
    torn = next(path for path in folder.files if path.endswith(".seg"))
    whole, folder.files[torn] = folder.files[torn], folder.files[torn][:-4]

    told = [met(folder, other, at_s) for at_s in (0, 300, 600, 1000)]

    assert torn in told[0].waiting
    assert torn in told[-1].refused

    met(folder, one, 2000)
    assert folder.files[torn] == whole
    assert met(folder, other, 2001).received


def test_two_tablets_of_one_image_both_keep_everything(
    two: Two,
) -> None:
    folder, one, other = two
    one.state_something()
    met(folder, one)
    clone = one.copied()
    theirs, ours = clone.state_something(), one.state_something()

    met(folder, one)
    anew = met(folder, clone)

    assert anew.new_identity
    assert anew.new_identity != one.own_tablets()[-1]
    for at_s, tablet in enumerate((one, clone, other, one, clone, other)):
        met(folder, tablet, at_s)
    assert ours in clone.entries
    assert {ours, theirs} <= set(other.entries)


def test_another_share_gets_nothing(two: Two) -> None:
    _, one, _ = two
    elsewhere = MemoryFolder()
    identity = ShareIdentity(store=SHARE[:-1] + "2", mine="Wrenfall", root_keys=(ROOT.public_key,))
    elsewhere.files[STORE] = identity.signed(ROOT).content()
    one.state_something()

    with pytest.raises(AnotherShare):
        met(elsewhere, one)
    with pytest.raises(NoShareHere):
        met(MemoryFolder(), one)

    assert not elsewhere.written


def test_a_share_set_back_gets_everything_once_more(
    two: Two,
) -> None:
    folder, one, other = two
    one.state_something()
    met(folder, one)
    backup = dict(folder.files)
    one.state_something()
    met(folder, one)
    before = set(folder.files)
    folder.files = {path: it for path, it in backup.items() if not path.startswith("trust")}
    folder.files[STORE] = backup[STORE]

    told = met(folder, one, 100)

    assert told.trust_set_back
    assert before <= set(folder.files) | {path for path in before if path.startswith("heads")}
    assert met(folder, other, 101).entries_received >= 2
