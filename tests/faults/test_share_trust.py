"""Records of trust that were set back, are held back, or are two of one number.

Every machine here has a database and a home of its own, and the folder between them is real.
"""

import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.report.trust_words import standing_lines
from fieldapp.work.office import revoke_tablet
from fieldapp.work.people import enrol, person, revoke
from fieldapp.work.renewing import DUE_AFTER, OLD_AFTER, renew
from fieldapp.work.site import Site
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
