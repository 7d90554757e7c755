"""Records of trust that were set back, are held back, or are two of one number.

Every machine here has a database and a home of its own, and the folder between them is real.
"""

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.report.words.trust import standing_lines
from fieldapp.work.enrol.office import revoke_tablet
from fieldapp.work.enrol.renewing import DUE_AFTER, OLD_AFTER, renew
from fieldapp.work.enrol.rivals import NothingToSettle, rivals, settle_rivals
from fieldapp.work.people import enrol, people, person, revoke
from fieldapp.work.site import Site
from sync.trust_writing import RivalRecords
from tests.share.sites import CODE, Sites, labels, say, sites_in

A_DAY = timedelta(days=1)


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Sites]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield sites


def warning(site: Site) -> str:
    return " ".join(standing_lines(site))


# --- 45: set back, held back ----------------------------------------------------------------


def test_records_of_trust_that_were_set_back_are_told_and_put_there_again(at: Sites) -> None:
    one = at.tablet("one")
    at.met(one)
    revoke_tablet(at.office, "one", "stolen", site_code=CODE)
    two = at.tablet("two")
    at.met(two)
    records = sorted((at.root / "trust").iterdir())
    for record in records[2:]:
        record.unlink()
    outcome = at.met(two)

    assert outcome.trust_set_back
    assert sorted((at.root / "trust").iterdir()) == records
    assert two.store.holdings.trust().number == len(records)


def test_a_share_that_holds_the_records_back_for_a_month_is_warned_of_and_stops_nobody(
    at: Sites,
) -> None:
    """The office revokes somebody, and the tablet's folder stays a copy from before."""
    one, two = at.tablet("one"), at.tablet("two")
    at.meet_often(one, two)
    frozen = at.folder / "frozen"
    shutil.copytree(at.share, frozen)
    revoke_tablet(at.office, "two", "stolen", site_code=CODE)
    at.clock.at += OLD_AFTER - A_DAY
    at.share, true_share = frozen, at.share
    at.met(one)
    assert not warning(one)

    at.clock.at += 2 * A_DAY
    say(one, "goes on")
    at.met(one)

    assert "was made 6 May 2031 09:3" in warning(one)
    assert "31 days ago" in warning(one)
    assert "Whoever was revoked since then is still believed here" in warning(one)
    assert "Nothing is stopped, and everything is kept" in warning(one)
    assert "lastrow enrol renew" in warning(one)
    assert "goes on" in labels(one)
    at.share = true_share
    at.meet_often(one)
    assert "goes on" in labels(at.office)


@pytest.mark.parametrize("act", ["renew", "enrol", "revoke"])
def test_whatever_the_office_states_of_anybody_renews_the_records(at: Sites, act: str) -> None:
    enrol(at.office, "Engineer", ("geotechnical engineer",), sign_code="1111", site_code=CODE)
    one = at.tablet("one")
    at.met(one)
    at.clock.at += OLD_AFTER + A_DAY
    if act == "renew":
        renew(at.office, site_code=CODE)
    elif act == "enrol":
        at.tablet("another")
    else:
        revoke(at.office, person(at.office, "Engineer"), site_code=CODE)
    assert warning(one)

    at.met(one)

    assert not warning(one)


def test_an_old_record_that_comes_late_is_old(at: Sites) -> None:
    """What counts is when the office made it, not when it came."""
    one = at.tablet("one")
    at.clock.at += OLD_AFTER + A_DAY
    at.met(one)

    assert "31 days ago" in warning(one)


def test_a_record_from_far_ahead_is_no_new_one(at: Sites) -> None:
    """The office's clock, or the tablet's, is wrong: nobody can tell how old the record is."""
    one = at.tablet("one", -10 * 365 * A_DAY)
    at.met(one)

    assert "3,650 days ahead of the clock here" in warning(one)
    assert "Whoever was revoked since then" in warning(one)


def test_the_office_is_reminded_while_no_tablet_warns_yet(at: Sites) -> None:
    one = at.tablet("one")
    at.meet_often(one)
    assert not warning(at.office)
    at.clock.at += DUE_AFTER + A_DAY

    assert "21 days ago" in warning(at.office)
    assert "Renew the records on the office's machine: lastrow enrol renew." in warning(at.office)
    assert not warning(one)
    renew(at.office, site_code=CODE)
    assert not warning(at.office)


def test_a_tablet_that_has_no_records_yet_is_warned_of_nothing(at: Sites) -> None:
    assert not warning(at.tablet("one"))
    assert not warning(at.opened("alone"))


# --- rivals: an office that was restored from a copy ------------------------------------------


@dataclass
class TwoOffices:
    """An office, and another one from its image that goes on by a stick; each enrols somebody."""

    at: Sites
    stick: Path
    first: Site
    again: Site
    tablets: tuple[Site, ...]

    def met_at(self, place: Path, site: Site) -> None:
        by_network, self.at.share = self.at.share, place
        self.at.met(site)
        self.at.share = by_network

    def come_together(self) -> None:
        shutil.copytree(self.stick, self.at.share, dirs_exist_ok=True)
        self.at.meet_often(*self.tablets)

    def machines(self) -> tuple[Site, ...]:
        return (self.first, *self.tablets)


@pytest.fixture
def two(at: Sites) -> TwoOffices:
    by_name = {name: at.tablet(name) for name in ("one", "two", "late")}
    enrol(at.office, "Old engineer", ("geotechnical engineer",), sign_code="1111", site_code=CODE)
    at.meet_often(*by_name.values())
    stick = at.folder / "stick"
    shutil.copytree(at.share, stick)
    settings = at.office.settings.model_copy(update={"share": str(stick)})
    again = at.copied(at.office, "office again").with_settings(settings)
    found = TwoOffices(at, stick, at.office, again, tuple(by_name.values()))
    enrol(at.office, "Ann", ("shift supervisor",), sign_code="2222", site_code=CODE)
    enrol(again, "Ben", ("shift supervisor",), sign_code="3333", site_code=CODE)
    revoke(again, person(again, "Old engineer"), site_code=CODE)
    at.met(by_name["one"])
    found.met_at(stick, by_name["two"])
    return found


def enrolled(site: Site) -> set[str]:
    return {it.body.name for it in people(site)}


def test_of_two_offices_each_is_believed_where_only_its_records_came(two: TwoOffices) -> None:
    one, other, _ = two.tablets

    assert enrolled(one) == {"Ann", "Old engineer"}
    assert enrolled(other) == {"Ben"}


def test_records_of_two_offices_come_to_the_same_on_every_machine_and_the_stricter_counts(
    two: TwoOffices,
) -> None:
    two.come_together()

    for site in two.machines():
        assert enrolled(site) == set()
        assert "go apart at record" in warning(site)
        assert "The records keeper settles it on the office's machine" in warning(site)
    assert len({site.store.holdings.trust() for site in two.machines()}) == 1


def test_nobody_is_enrolled_and_anybody_revoked_until_the_keeper_has_settled_it(
    two: TwoOffices,
) -> None:
    two.come_together()
    with pytest.raises(RivalRecords):
        enrol(two.first, "Eve", ("shift supervisor",), sign_code="4444", site_code=CODE)
    revoke_tablet(two.first, "two", "stolen", site_code=CODE)

    assert [it.says[0] for it in rivals(two.first)][-1] == "revokes two"
    said = {line for it in rivals(two.first) for line in it.says}
    assert said >= {
        "enrols Ann as shift supervisor",
        "enrols Ben as shift supervisor",
        "revokes Old engineer",
    }
    settle_rivals(two.first, site_code=CODE)
    two.at.meet_often(*two.tablets)
    for site in two.machines():
        assert enrolled(site) == {"Ann", "Ben"}
        assert not warning(site) or "has revoked this tablet" in warning(site)
        assert site.store.holdings.trust().cuts
    enrol(two.first, "Eve", ("shift supervisor",), sign_code="4444", site_code=CODE)


def test_a_tablet_that_one_of_two_offices_enrolled_is_heard(two: TwoOffices) -> None:
    """What it states may be a no entry."""
    new = two.at.tablet("new")
    said = say(new, "from the new one")
    two.at.meet_often(new)
    two.come_together()

    for site in two.machines():
        assert site.store.ledger.get(said.revision) == said


def test_rivals_survive_a_restart_and_come_back_from_a_backup(two: TwoOffices) -> None:
    two.come_together()
    _, _, late = two.tablets
    back = two.at.brought_back(two.at.backed_up(late), "late again")

    assert back.store.holdings.trust() == late.store.holdings.trust()
    assert back.store.holdings.trust().disputed


def test_where_records_follow_one_another_there_is_nothing_to_settle(at: Sites) -> None:
    with pytest.raises(NothingToSettle):
        settle_rivals(at.office, site_code=CODE)
