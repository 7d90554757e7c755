"""An entry's logical time: it grows on this tablet, whatever others' clocks say."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from fieldapp.start import open_site
from fieldapp.work.site import Site
from fieldapp.work.writing import new_thing_id, state
from schemas.bodies.withdrawal import Withdrawal
from schemas.entry import Entry, Stated, new_entry
from schemas.logical_clock import LogicalTime
from tests.share.strangers import TRUST, Stranger, enrolled, say, take

NOW = datetime(2026, 3, 1, 6, tzinfo=UTC)


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    opened = open_site(tmp_path, now=lambda: NOW)
    opened.store.holdings.pair(TRUST.store, TRUST.root_keys)
    with opened.store:
        yield opened


def states_something(site: Site) -> Entry:
    body = Withdrawal(thing="t", revision="0" * 64, reason="by mistake")
    return state(site, "withdrawal", body, author=None)


def hear(site: Site, ahead: timedelta, *, believed: bool = True) -> Entry:
    other = Stranger(100)
    if believed:
        say(site.store.holdings, enrolled(other.key))
    at = NOW + ahead
    by = Stated("p-2", at, "UTC", LogicalTime(int(at.timestamp() * 1000)))
    heard = new_entry("event", 1, new_thing_id(site), {}, by)
    take(site.store.holdings, other.seals(heard), other.identity)
    return heard


def test_after_an_older_entry_was_heard_the_clock_goes_on(site: Site) -> None:
    before = states_something(site)
    hear(site, -timedelta(days=30))

    assert states_something(site).clock > before.clock


def test_after_a_somewhat_newer_entry_was_heard_the_clock_follows(site: Site) -> None:
    heard = hear(site, timedelta(minutes=4))

    assert states_something(site).clock == heard.clock.next()


@pytest.mark.parametrize("believed", [True, False])
def test_a_tablet_years_ahead_drags_nobody_along(site: Site, *, believed: bool) -> None:
    before = states_something(site)
    hear(site, timedelta(days=2000), believed=believed)
    after = states_something(site)

    assert before.clock < after.clock < LogicalTime(before.clock.ms + 1)


def test_a_wall_clock_that_was_set_back_does_not_set_it_back(site: Site) -> None:
    before = states_something(site)
    earlier = replace(site, now=lambda: NOW - timedelta(days=2))

    assert states_something(earlier).clock > before.clock
