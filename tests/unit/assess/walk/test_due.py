"""When a section is walked next: after its interval, at once where something happened."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.walk import Due, Interval, LookedAt, Section, Shaken, due

NOW = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
TODAY = NOW.date()
MONTHLY = Interval(30, "every 30 days")


def ground(from_m: object, to_m: object) -> Section:
    return Section(Decimal(str(from_m)), Decimal(str(to_m)))


def looked(days_ago: float, from_m: object = 100, to_m: object = 110) -> LookedAt:
    return LookedAt(ground(from_m, to_m), NOW - timedelta(days=days_ago))


def shaken(days_ago: float, from_m: object = 0, to_m: object = 999) -> Shaken:
    return Shaken(ground(from_m, to_m), NOW - timedelta(days=days_ago), f"seismic {days_ago}")


def asked(*looks: LookedAt, events: tuple[Shaken, ...] = (), interval: Interval = MONTHLY) -> Due:
    return due(ground(100, 110), looks, events, interval, NOW)


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


def test_a_section_is_due_an_interval_after_it_was_looked_at() -> None:
    found = asked(looked(10))

    assert (found.on, found.at_once) == (TODAY + timedelta(days=20), False)
    assert found.why == "last looked at on 26 Apr 2031; every 30 days"
    assert found.late_days(TODAY) == 0


def test_it_says_by_how_many_days_it_is_late() -> None:
    assert asked(looked(42)).late_days(TODAY) == 12


def test_the_newest_look_counts_in_whatever_order_they_came() -> None:
    assert asked(looked(40), looked(5), looked(12)).on == TODAY + timedelta(days=25)


def test_a_section_that_nobody_looked_at_is_due_at_once() -> None:
    found = asked()

    assert (found.on, found.at_once, found.why) == (TODAY, True, "never looked at")


def test_a_look_at_half_of_a_section_leaves_the_other_half_due() -> None:
    found = asked(looked(2, 100, 106))

    assert (found.at_once, found.why) == (True, "part of it was never looked at")


def test_the_half_that_was_looked_at_longest_ago_makes_it_due() -> None:
    assert asked(looked(2, 100, 106), looked(20, 106, 110)).on == TODAY + timedelta(days=10)


def test_after_an_event_it_is_due_at_once_since_then() -> None:
    found = asked(looked(5), events=(shaken(3),))

    assert (found.on, found.at_once) == (ago(3), True)
    assert found.why == "seismic 3, not looked at since"
    assert found.late_days(TODAY) == 3


def test_an_event_never_makes_what_was_late_before_it_less_late() -> None:
    found = asked(looked(50), events=(shaken(3),))

    assert (found.on, found.at_once) == (ago(20), True)
    assert found.why.startswith("seismic 3, not looked at since; last looked at on ")


def test_a_look_after_the_event_settles_it() -> None:
    assert not asked(looked(2), events=(shaken(3),)).at_once


def test_of_several_events_the_first_that_nobody_looked_since_counts() -> None:
    assert asked(looked(6), events=(shaken(1), shaken(5), shaken(9))).on == ago(5)


def test_ground_beyond_the_radius_is_not_due_for_it() -> None:
    assert not asked(looked(5), events=(shaken(3, 0, 100),)).at_once, "it ends at the border"
    assert asked(looked(5), events=(shaken(3, 0, "100.1"),)).at_once


def test_a_look_at_the_ground_within_the_radius_settles_the_event() -> None:
    looks = (looked(20), looked(1, 100, 104))

    assert not asked(*looks, events=(shaken(3, 90, 104),)).at_once
    assert asked(*looks, events=(shaken(3, 90, 105),)).at_once


def test_a_look_that_a_wrong_clock_dated_years_ahead_counts_as_none() -> None:
    assert asked(looked(-400)).why == "never looked at"
    assert asked(looked(-400), looked(10)).on == TODAY + timedelta(days=20)


def test_a_tablet_some_minutes_ahead_is_believed() -> None:
    assert asked(looked(-0.01)).on == TODAY + timedelta(days=30)


def test_days_are_those_of_the_mine() -> None:
    west = NOW.astimezone(tz=datetime.strptime("-0800", "%z").tzinfo)
    seen = LookedAt(ground(100, 110), datetime(2031, 5, 1, 3, tzinfo=UTC))

    found = due(ground(100, 110), [seen], (), MONTHLY, west)

    assert found.on == date(2031, 5, 30), "30 days after the 30th of April there"
