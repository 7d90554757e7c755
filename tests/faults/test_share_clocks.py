"""A tablet whose clock was off says so in its own row, and readers of its times are told.

Every machine here has a database and a home of its own, and the folder between them is real.
"""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.report.words.clock import clock_lines
from fieldapp.work.clocks import doubted
from fieldapp.work.site import Site
from schemas.bodies.clock_note import ClockNote
from tests.share.sites import Sites, say, sites_in

HOUR, YEARS = timedelta(hours=1), timedelta(days=3650)


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Sites]:
    with sites_in(tmp_path, monkeypatch) as sites:
        yield sites


def notes(site: Site) -> list[ClockNote]:
    """Give what a machine knows that was said of clocks, oldest first."""
    said = site.store.holdings.said_of_clocks()
    return [ClockNote.model_validate(dict(it.body)) for _, it in said]


def test_a_clock_that_is_set_back_is_noted_and_its_readers_are_told(at: Sites) -> None:
    one, other = at.tablet("one"), at.tablet("other")
    before = say(one, "before")
    after = say(at.at(one, at.clock.at - 3 * HOUR), "after")
    at.met(one)
    at.met(other)

    (note,) = notes(other)
    assert (note.found, note.said, note.known) == ("put back", after.made_at, before.made_at)
    (line,) = clock_lines(other)
    assert line.startswith("The clock of one was put back by 3 h, to ")
    for site in (one, other):
        is_doubted = doubted(site)
        assert is_doubted(before)
        assert is_doubted(after)
    assert not doubted(other)(say(other, "here"))


def test_a_clock_years_ahead_that_is_put_right_is_noted_once(at: Sites) -> None:
    one = at.tablet("one")
    ahead = at.at(one, at.clock.at + YEARS)
    say(ahead, "from another year")
    at.met(one)
    for label in ("put right", "and so it stays"):
        say(one, label)
        at.met(one)

    (note,) = notes(one)
    assert note.found == "put back"
    assert YEARS <= note.known - note.said + HOUR <= YEARS + HOUR


def test_a_clock_that_goes_back_by_no_more_than_it_is_put_right_each_day_is_no_news(
    at: Sites,
) -> None:
    one = at.tablet("one")
    say(one, "before")
    say(at.at(one, at.clock.at - timedelta(minutes=4)), "after")
    at.met(one)

    assert not notes(one)


def test_a_clock_behind_what_two_others_stated_is_noted_by_its_own_tablet(at: Sites) -> None:
    one, two, slow = at.tablet("one"), at.tablet("two"), at.tablet("slow", -2 * HOUR)
    for site in (one, two):
        say(site, "by the right clock")
        at.met(site)
    here = say(slow, "by the slow clock")
    at.met(slow)
    at.met(at.office)

    (note,) = notes(at.office)
    assert note.found == "behind"
    assert timedelta(minutes=90) < note.known - note.said < 2 * HOUR
    assert doubted(at.office)(here)
    (line,) = clock_lines(at.office)
    assert line.startswith("The clock of slow was ")
    assert "slow or more when it said" in line


def test_one_tablet_with_a_clock_years_ahead_makes_nobody_doubt_their_own(at: Sites) -> None:
    one, other = at.tablet("one"), at.tablet("other")
    say(at.at(one, at.clock.at + YEARS), "from another year")
    at.met(one)
    say(other, "from today")
    at.met(other)

    assert not notes(other)
    (line,) = clock_lines(other)
    assert line.startswith("one gave a time that is 3,650 days ahead of the clock here")


def test_a_clock_that_stays_behind_is_noted_once_a_day(at: Sites) -> None:
    one, two, slow = at.tablet("one"), at.tablet("two"), at.tablet("slow", -2 * HOUR)
    for day in (1, 2):
        for _ in range(3):
            for site in (one, two, slow):
                say(site, "by its own clock")
                at.met(site)

        assert len(notes(slow)) == day
        at.clock.at += timedelta(days=1)


def test_a_note_of_a_tablet_that_nobody_enrolled_doubts_nothing(at: Sites) -> None:
    stranger = at.stranger("stranger")
    say(stranger, "before")
    say(at.at(stranger, at.clock.at - 3 * HOUR), "after")
    at.met(stranger)
    at.met(at.office)

    assert notes(stranger)
    assert not notes(at.office)


def test_a_note_doubts_the_times_of_its_own_tablet_alone(at: Sites) -> None:
    one, other = at.tablet("one"), at.tablet("other")
    theirs = say(at.at(other, at.clock.at - HOUR), "an hour ago")
    say(one, "before")
    say(at.at(one, at.clock.at - 3 * HOUR), "after")
    at.meet_often(one, other)

    assert notes(at.office)
    for site in (one, other, at.office):
        assert not doubted(site)(theirs)
