"""Who is who in a share: cloned, restored, lost and foreign machines, clocks, records of trust.

Every machine here has a database and a home of its own, and the folder between them is real.
"""

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from fieldapp.report.words.findings import when
from fieldapp.work.enrol.office import revoke_tablet, tablets
from fieldapp.work.known import current
from fieldapp.work.people import enrol, person
from fieldapp.work.share.delivered import tablet_names
from fieldapp.work.share.disputes import Dispute, disputes, settle
from fieldapp.work.site import Session
from fieldapp.work.withdrawals import withdraw
from schemas.bodies.batch import Batch
from schemas.logical_clock import FARTHEST_HEARD_MS, LogicalTime
from sync.names import HeadName, SegmentName, bucket, short_hash
from sync.share_identity import AnotherShare, NoShareHere
from tests.share.sites import CODE, Sites, labels, say, sites_in

TEN_YEARS = timedelta(days=3650)


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Sites]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield sites


def head_of(at: Sites) -> set[HeadName]:
    listed = (at.root / "heads" / "mine").iterdir()
    return {name for it in listed if (name := HeadName.of_file(it.name))}


# --- 31 to 35: cloned, restored, lost, wiped ------------------------------------------------


def test_of_two_tablets_with_one_image_the_second_takes_a_new_key_and_nothing_is_lost(
    at: Sites,
) -> None:
    one = at.tablet("one")
    say(one, "before")
    at.met(one)
    two = at.copied(one, "two")
    say(one, "on the first")
    say(two, "on the second")
    at.met(one)
    outcome = at.met(two)
    at.meet_often(one, two)

    assert outcome.new_identity == two.store.holdings.own_tablets()[-1]
    said = {"before", "on the first", "on the second"}
    assert labels(one) == labels(two) == labels(at.office) == said
    (second,) = (it for it in tablets(at.office) if it.tablet == outcome.new_identity)
    assert (second.name, second.follows, second.counts) == ("", "one", True)
    assert tablet_names(at.office)[second.tablet] == "one by a new key"


def test_two_branches_that_met_on_a_stick_are_both_kept_and_flagged(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "before")
    at.met(one)
    two = at.copied(one, "two")
    stick = at.folder / "stick"
    shutil.copytree(at.share, stick)
    say(one, "on the first")
    say(two, "on the second")
    at.met(one)
    at.share, by_network = stick, at.share
    at.met(two)
    at.share = by_network
    shutil.copytree(stick, by_network, dirs_exist_ok=True)
    outcome = at.met(at.office, deep=True)

    assert outcome.forks == [one.store.holdings.own_tablets()[0]]
    assert labels(at.office) == {"before", "on the first", "on the second"}


def test_a_share_from_an_old_backup_gets_back_what_it_forgot(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "before")
    at.meet_often(one)
    shutil.copytree(at.share, at.folder / "backup")
    say(one, "after")
    at.meet_often(one)
    shutil.rmtree(at.share)
    shutil.copytree(at.folder / "backup", at.share)
    at.meet_often(one)

    newcomer = at.tablet("newcomer")
    at.met(newcomer)
    assert labels(newcomer) == {"before", "after"}


def test_a_share_made_anew_gets_nothing_until_somebody_pairs_again(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "before")
    at.met(one)
    (at.folder / "elsewhere").mkdir()
    other = Sites(at.folder / "elsewhere")
    shutil.rmtree(at.share)
    shutil.copytree(other.share, at.share)
    files = sorted(at.share.rglob("*"))

    with pytest.raises(AnotherShare) as told:
        at.met(one)

    store = one.store.holdings.trust().store
    assert store in str(told.value)
    assert sorted(at.share.rglob("*")) == files
    trust = other.office.store.holdings.trust()
    one.store.holdings.pair(trust.store, trust.root_keys, again=True)
    at.met(one)
    assert any(name.tablet == one.store.holdings.own_tablets()[-1] for name in head_of(at))
    other.close()


def test_an_empty_mount_point_is_no_share(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "before")
    shutil.rmtree(at.share)
    at.share.mkdir()
    with pytest.raises(NoShareHere):
        at.met(one)

    assert list(at.share.iterdir()) == []


# --- 36, 37: clocks -------------------------------------------------------------------------


@pytest.mark.parametrize("off", [TEN_YEARS, -TEN_YEARS], ids=["years ahead", "years behind"])
def test_a_clock_that_is_years_wrong_poisons_nobody_and_refuses_nothing(
    at: Sites, off: timedelta
) -> None:
    one, other = at.tablet("one"), at.tablet("other")
    say(at.at(one, at.clock.at + off), "from another year")
    at.met(one)
    at.met(other)
    here = say(other, "from today")

    assert labels(other) == {"from another year", "from today"}
    ahead_ms = here.clock.ms - int(at.clock.at.timestamp() * 1000)
    assert 0 <= ahead_ms <= FARTHEST_HEARD_MS


def test_a_clock_that_is_set_back_never_turns_the_order_of_a_tablet_round(at: Sites) -> None:
    one = at.tablet("one")
    first = say(one, "first")
    second = say(at.at(one, at.clock.at - timedelta(hours=9)), "second")

    assert second.clock > first.clock


def test_an_hour_that_a_zone_has_twice_is_told_apart(at: Sites) -> None:
    """Clocks went from 3:00 back to 2:00 on 26 October 2031, at 1:00 UTC (IANA, CET)."""
    one, other = at.tablet("one"), at.tablet("other")
    at.clock.at = datetime(2031, 10, 26, 0, 30, tzinfo=UTC)
    zoned = one.with_settings(one.settings.model_copy(update={"zone": "CET"}))
    first = say(zoned, "half past two")
    at.clock.at += timedelta(hours=1)
    second = say(zoned, "half past two again")
    at.meet_often(zoned, other)

    shown = {when(it.made_at, ZoneInfo(it.zone)) for it in (first, second)}
    assert shown == {"26 Oct 2031 02:30 UTC+02:00", "26 Oct 2031 02:30 UTC+01:00"}
    order = [str(it.body["label"]) for it in other.store.ledger.of_kind("batch")]
    assert order == ["half past two", "half past two again"]
    assert second.made_at - first.made_at == timedelta(hours=1)


def test_a_logical_clock_that_runs_over_goes_on_with_the_next_millisecond() -> None:
    from schemas.logical_clock import LARGEST_COUNT, LogicalClock

    full = LogicalTime(1000, LARGEST_COUNT)

    assert LogicalClock(full).tick(1000).latest == LogicalTime(1001, 0)


# --- 38, 39: revisions ----------------------------------------------------------------------


def test_what_two_revise_at_once_is_in_dispute_alike_everywhere(at: Sites) -> None:
    one, two = at.tablet("one"), at.tablet("two")
    before = say(one, "before")
    at.meet_often(one, two)
    theirs, ours = say(two, "by the second", before), say(one, "by the first", before)
    at.meet_often(one, two)

    for site in (one, two, at.office):
        (found,) = disputes(site)
        assert {found.left.revision, found.right.revision} == {theirs.revision, ours.revision}


@pytest.mark.parametrize("stands", ["what was revised", "the withdrawal"])
def test_what_one_revises_and_another_withdraws_at_once_is_in_dispute_alike_everywhere(
    at: Sites, stands: str
) -> None:
    enrol(at.office, "Engineer", ("geotechnical engineer",), sign_code="1111", site_code=CODE)
    one, two = at.tablet("one"), at.tablet("two")
    before = say(one, "before")
    at.meet_often(one, two)
    after = say(one, "after", before)
    engineer = person(at.office, "Engineer")
    session = Session(engineer.id, "Engineer", engineer.body.roles)
    void = withdraw(at.office, before.revision, session, reason="another batch").entry
    at.met(at.office)
    at.met(two)
    at.meet_often(one, two)

    for site in (one, two, at.office):
        assert disputes(site) == (Dispute(after, void),)
    (found,) = disputes(two)
    settle(two, found, after if stands == "what was revised" else void, session)
    at.meet_often(one, two)
    for site in (one, two, at.office):
        assert disputes(site) == ()
        left = [it.body.label for it in current(site, "batch", Batch)]
        assert left == (["after"] if stands == "what was revised" else [])


def test_a_parent_that_never_comes_leaves_the_thing_usable(at: Sites) -> None:
    one = at.tablet("one")
    before = say(at.stranger("stranger"), "before")
    after = say(one, "after", before)
    at.meet_often(one)

    assert labels(at.office) == {"after"}
    (head,) = at.office.store.ledger.heads("batch")
    assert head.revision == after.revision


# --- 43 to 46: forged, revoked, set back, hostile --------------------------------------------


def test_a_segment_forged_replayed_or_renumbered_is_refused_and_named(at: Sites) -> None:
    one, victim = at.tablet("one"), at.tablet("victim")
    say(one, "true")
    at.meet_often(one, victim)
    tablet = one.store.holdings.own_tablets()[-1]
    (true,) = (it.name for it in one.store.holdings.rows()[tablet] if it.name.seq == 1)
    content = (at.root / true.path).read_bytes()
    other = victim.store.holdings.own_tablets()[-1]
    forged = content[:-20] + bytes([content[-20] ^ 1]) + content[-19:]
    lies = (
        SegmentName(tablet, 90, short_hash(forged)),
        SegmentName(other, 91, short_hash(content)),
        SegmentName(tablet, 92, short_hash(content)),
    )
    for name, bytes_of_it in zip(lies, (forged, content, content), strict=True):
        path = at.root / name.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(bytes_of_it)
    outcome = at.met(at.office, deep=True)

    assert set(outcome.refused) >= {name.path for name in lies}
    assert labels(at.office) == {"true"}


def test_what_a_revoked_tablet_writes_later_is_kept_listed_and_counts_nowhere(
    at: Sites,
) -> None:
    one = at.tablet("one")
    say(one, "before")
    at.meet_often(one)
    revoke_tablet(at.office, "one", "stolen", site_code=CODE)
    say(at.at(one, at.clock.at - TEN_YEARS), "back-dated")
    at.meet_often(one)

    assert labels(at.office) == {"before"}
    lines = {str(it.body.get("label")) for it in at.office.store.ledger.all()}
    assert "back-dated" in lines
    (seen,) = (it for it in tablets(at.office) if it.name == "one")
    assert seen.cut_at is not None
    assert seen.sealed > seen.cut_at


def test_nobody_becomes_an_engineer_by_saying_so_again(at: Sites) -> None:
    """An enrolment is true only in the records: the same certificate in an entry brings none."""
    from fieldapp.work.people import people, revoke

    enrol(at.office, "Old engineer", ("geotechnical engineer",), sign_code="1111", site_code=CODE)
    one = at.tablet("one")
    at.meet_often(one)
    known = person(one, "Old engineer")
    revoke(at.office, person(at.office, "Old engineer"), site_code=CODE)
    at.meet_often(one)
    from fieldapp.work.writing import state

    state(one, "person", known.body, author=known.id, thing_id=known.id)
    at.meet_often(one)

    for site in (one, at.office):
        assert people(site) == ()


@pytest.mark.parametrize(
    "hostile",
    [
        b"[" * 1_000_000,
        b'{"a":' * 500_000,
        b'{"lastrow":1,"n":1e999999}',
        b"\x1f\x8b" + b"\x00" * 100_000,
        b"",
        b"\xff" * 4096,
    ],
    ids=["deep list", "deep object", "huge number", "no gzip", "empty", "no text"],
)
def test_hostile_bytes_under_every_kind_of_name_stop_nothing(at: Sites, hostile: bytes) -> None:
    one = at.tablet("one")
    say(one, "true")
    at.met(one)
    mark = short_hash(hostile)
    stranger = "b2mzkq7ya4xwtcu5"
    for path in (
        f"heads/mine/{stranger}.00000001.{mark}.head",
        f"{bucket(stranger, 1)}/00000001-{mark}.seg",
        f"tablets/{stranger}/id.json",
        f"trust/000099-{mark}.trust",
        f"photos/203105/aa/{'a' * 64}.jpg",
    ):
        (at.root / path).parent.mkdir(parents=True, exist_ok=True)
        (at.root / path).write_bytes(hostile)
    at.met(at.office, deep=True)

    assert labels(at.office) == {"true"}


def test_a_body_that_names_paths_touches_nothing_outside(at: Sites, tmp_path: Path) -> None:
    one = at.tablet("one")
    say(one, "../../../../etc/passwd")
    say(one, "C:\\windows\\nul")
    before = set(tmp_path.iterdir())
    at.meet_often(one)

    assert set(tmp_path.iterdir()) == before
    assert labels(at.office) == {"../../../../etc/passwd", "C:\\windows\\nul"}
