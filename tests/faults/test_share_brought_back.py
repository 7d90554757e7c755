"""Tablets brought back from a backup, and lost ones rebuilt from the share: nothing is lost or
doubled, no number is used twice, and nobody has to do anything about it.

Every machine here has a database and a home of its own, and the folder between them is real.
"""

from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.store.backups import keep_generation
from fieldapp.store.bring_back import bring_back_newest
from fieldapp.store.home import DATABASE
from fieldapp.work.site import Site
from sync.names import SegmentName
from sync.segment import open_segment
from tests.share.sites import Sites, labels, say, sites_in

DAY = timedelta(days=1)


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Sites]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield sites


def present(site: Site) -> str:
    return site.store.holdings.own_tablets()[-1]


def row(site: Site, tablet: str) -> list[SegmentName]:
    return [it.name for it in site.store.holdings.rows().get(tablet, ())]


def every_label(site: Site) -> list[str]:
    """Give what was said, as often as it is here."""
    return sorted(str(it.body["label"]) for it in site.store.ledger.of_kind("batch"))


# --- 33: brought back from a backup -----------------------------------------------------------


def test_a_tablet_brought_back_from_a_backup_of_30_days_ago_reads_back_what_it_sent_since(
    at: Sites,
) -> None:
    one = at.tablet("one")
    said = ["in the backup"]
    say(one, said[0])
    at.met(one)
    backup = at.backed_up(one)
    for day in range(30):
        said.append(f"day {day:02}")
        say(one, said[-1])
        at.clock.at += DAY
        at.met(one)
    sealed = row(one, present(one))
    one.store.close()

    back = at.brought_back(backup, "one again")
    said.append("after it came back")
    say(back, said[-1])
    told = at.met(back)
    at.met(at.office)

    assert row(back, present(one)) == sealed, "no number of it was used again"
    assert {it.tablet for it in told.sent} == {present(back)}, "and nothing of it was sent again"
    assert every_label(back) == every_label(at.office) == sorted(said)
    assert not at.met(at.office, deep=True).forks
    assert back.store.check().waiting == 0


def test_what_it_states_before_it_meets_the_share_clashes_with_nothing(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "in the backup")
    at.met(one)
    backup = at.backed_up(one)
    say(one, "sent after the backup")
    at.met(one)

    back = at.brought_back(backup, "one again")
    for number in range(3):
        say(back, f"underground {number}")
        back.store.sealing.seal()
    told = at.met(back)
    at.met(at.office)

    assert not told.new_identity, "it has had one since it came back"
    assert labels(at.office) == labels(back)
    assert len(labels(back)) == 5
    assert not at.met(at.office, deep=True).forks


def test_what_waited_in_the_backup_and_was_sent_since_is_not_doubled(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "waiting")
    backup = at.backed_up(one)
    at.met(one)

    back = at.brought_back(backup, "one again")
    at.meet_often(back)

    assert every_label(back) == every_label(at.office) == ["waiting"]


def test_two_brought_back_from_one_backup_both_go_on(at: Sites) -> None:
    one = at.tablet("one")
    say(one, "in the backup")
    at.met(one)
    backup = at.backed_up(one)

    both = [at.brought_back(backup, name) for name in ("one again", "and again")]
    for back in both:
        say(back, f"on {back.folder.name}")
    at.meet_often(*both)

    assert present(both[0]) != present(both[1])
    assert labels(at.office) == labels(both[0]) == labels(both[1])
    assert len(labels(at.office)) == 3
    assert not at.met(at.office, deep=True).forks


def test_brought_back_sixteen_times_a_tablet_is_believed_still(at: Sites) -> None:
    back = at.tablet("one")
    for number in range(16):
        say(back, f"life {number}")
        at.met(back)
        back = at.brought_back(at.backed_up(back), f"life {number + 1}")
    say(back, "the last")
    at.meet_often(back)

    assert "the last" in labels(at.office)


# --- lost -------------------------------------------------------------------------------------


def test_a_lost_tablet_is_rebuilt_from_the_share_alone_byte_for_byte(at: Sites) -> None:
    """Its key is lost with it; its row stays, and verifies for ever."""
    lost, other = at.tablet("lost"), at.tablet("other")
    for day in range(4):
        for number in range(70):
            say(lost, f"lost {day} {number}")
        say(other, f"other {day}")
        at.meet_often(lost, other)
    held = {
        it.name: lost.store.holdings.content(it.name)
        for rows in lost.store.holdings.rows().values()
        for it in rows
    }
    lines = {it.line for it in lost.store.ledger.all()}
    identity = lost.store.holdings.identity(present(lost))
    lost.store.close()

    new = at.tablet("new")
    at.met(new)

    holdings = new.store.holdings
    assert len(row(new, present(lost))) >= 4
    assert {name: holdings.content(name) for name in held} == held
    assert {it.line for it in new.store.ledger.all()} >= lines
    assert holdings.identity(present(lost)) == identity
    assert identity
    for name in row(new, present(lost)):
        open_segment(name.file, held[name] or b"", public_key=identity.public_key)
    new.store.check()


# --- damaged ----------------------------------------------------------------------------------


def headless(content: bytearray) -> None:
    content[:100] = bytes(100)


def half(content: bytearray) -> None:
    del content[len(content) // 2 :]


@pytest.mark.parametrize(
    ("damage", "unsent_is_read"),
    [(headless, True), (half, False), (bytearray.clear, False)],
    ids=["its header", "its second half", "all of it"],
)
def test_a_damaged_tablet_comes_back_from_backup_database_and_share_together(
    at: Sites, damage: Callable[[bytearray], None], *, unsent_is_read: bool
) -> None:
    one = at.tablet("one")
    for number in range(100):
        say(one, f"in the backup {number}")
    assert not keep_generation(one.store).troubles
    say(one, "sent after the backup")
    at.meet_often(one)
    say(one, "never sent")
    one.store.close()
    file = one.folder / DATABASE
    content = bytearray(file.read_bytes())
    damage(content)
    file.write_bytes(content)

    bring_back_newest(one.folder, None, at.clock)
    back = at.opened("one")
    at.meet_often(back)

    expected = {f"in the backup {number}" for number in range(100)} | {"sent after the backup"}
    if unsent_is_read:
        expected.add("never sent")
    assert labels(back) == labels(at.office) == expected
    assert len(every_label(back)) == len(expected)
    assert back.store.check().waiting == 0
