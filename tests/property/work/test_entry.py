"""Whatever people state, in whatever order it arrives, entry comes out the same and no milder."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from random import Random
from shutil import copy
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.entry.state import EntryState
from fieldapp.start import open_site
from fieldapp.work.batches import doubt_batch
from fieldapp.work.demo.story import MAIN, ORE_N, READY
from fieldapp.work.entry import entry
from fieldapp.work.events import events, report_event
from fieldapp.work.headings import heading, headings
from fieldapp.work.mine import MINE_FILE
from fieldapp.work.notices import (
    NotToBeLifted,
    TooEarly,
    answer,
    inspect,
    lift,
    notices,
    restrict,
    say_no_entry,
)
from fieldapp.work.record import record
from fieldapp.work.rounds import look_again, rounds
from fieldapp.work.site import Site
from fieldapp.work.withdrawals import NotYoursToWithdraw, withdraw
from schemas.standard import EventWhat
from tests.demo_mine import SetClock, demo_home, session

DAY, ENGINEER = "Day supervisor", "Geotechnical engineer"
FEW = settings(max_examples=8)
"""Each example opens a mine of its own on the disk."""


@dataclass(frozen=True)
class Act:
    """One thing that somebody does somewhere, drawn by a few numbers."""

    does: Callable[[Site, str, int], object]
    name: str
    drawn: int
    wait_min: int


def _no_entry(site: Site, place: str, drawn: int) -> object:
    return say_no_entry(site, place, Decimal(drawn), session(site, DAY) if drawn % 2 else None)


def _restrict(site: Site, place: str, drawn: int) -> object:
    until = site.now() + timedelta(minutes=drawn) if drawn % 3 else None
    who = session(site, DAY)
    return restrict(site, place, Decimal(drawn), who, to="light vehicles", until=until)


def _event(site: Site, place: str, drawn: int) -> object:
    what: tuple[EventWhat, ...] = ("fired", "seismic", "fall of ground", "water change")
    fired_m = Decimal("3.6") if drawn % 4 == 0 else None
    return report_event(
        site, place, what[drawn % 4], Decimal(drawn), session(site, DAY), fired_m=fired_m
    )


def _barrier(site: Site, place: str, drawn: int) -> object:
    found = notices(site, place)
    return found and answer(site, found[drawn % len(found)].id, None, barrier_up=True)


def _unsigned(site: Site, place: str, _drawn: int) -> object:
    work = look_again(site, rounds(site, place)[-1].id, session(site, DAY))
    return record(site, work, session(site, DAY))


def _doubt(site: Site, _place: str, _drawn: int) -> object:
    return doubt_batch(site, "RB24-0731", session(site, DAY), reason="sets too slowly")


def _lift(site: Site, place: str, drawn: int) -> object:
    found = notices(site, place)
    if not found:
        return None
    try:
        return lift(site, found[drawn % len(found)].id, session(site, ENGINEER), barrier_down=True)
    except NotToBeLifted:
        return None


def _inspect(site: Site, place: str, drawn: int) -> object:
    try:
        return inspect(site, place, session(site, DAY), up_to_m=Decimal(drawn))
    except TooEarly:
        return None


def _withdraw(site: Site, place: str, drawn: int) -> object:
    stated = [it.entry.revision for it in notices(site, place)]
    stated += [it.entry.revision for it in events(site, place)]
    if not stated:
        return None
    revision = stated[drawn % len(stated)]
    try:
        return withdraw(site, revision, session(site, DAY), reason="by mistake")
    except NotYoursToWithdraw:
        return None


STRICTER = (_no_entry, _restrict, _event, _barrier, _unsigned)
ANY = (*STRICTER, _doubt, _lift, _inspect, _withdraw)


def acts(among: tuple[Callable[[Site, str, int], object], ...]) -> st.SearchStrategy[list[Act]]:
    """Give a few acts, some minutes apart."""
    one = st.builds(
        Act,
        does=st.sampled_from(among),
        name=st.sampled_from([MAIN, READY, ORE_N]),
        drawn=st.integers(0, 700),
        wait_min=st.integers(0, 90),
    )
    return st.lists(one, min_size=1, max_size=6)


@contextmanager
def mine(clock: SetClock) -> Iterator[Site]:
    """Open a demo mine that nobody else touches."""
    with TemporaryDirectory() as folder:
        site = open_site(demo_home(Path(folder) / "home"), now=clock)
        with site.store:
            yield site


def do(site: Site, clock: SetClock, act: Act) -> None:
    act.does(site, heading(site, act.name).id, act.drawn)
    clock.go_on(minutes=act.wait_min)


def states(site: Site, clock: SetClock) -> dict[str, EntryState]:
    """Give every heading's entry; of reasons that weigh the same no order is promised."""
    found = {}
    for known in headings(site):
        state = entry(site, known.id, clock())
        found[known.body.name] = replace(state, reasons=tuple(sorted(state.reasons, key=repr)))
    return found


@FEW
@given(acts(ANY), st.randoms(use_true_random=False))
def test_the_order_in_which_entries_arrive_never_matters(stated: list[Act], by: Random) -> None:
    clock = SetClock()
    with mine(clock) as site, TemporaryDirectory() as folder:
        for act in stated:
            do(site, clock, act)
        home = Path(folder) / "other"
        home.mkdir()
        copy(site.folder / MINE_FILE, home / MINE_FILE)
        known = list(site.store.ledger.all())
        by.shuffle(known)
        other = replace(open_site(home, now=clock), settings=site.settings)
        with other.store:
            for entry_ in known:
                other.store.ledger.add([entry_])
            before = states(site, clock)
            assert states(other, clock) == before


@FEW
@given(acts(STRICTER))
def test_what_is_stricter_never_lets_anybody_farther_in(stated: list[Act]) -> None:
    clock = SetClock()
    with mine(clock) as site:
        before = states(site, clock)
        for act in stated:
            do(site, clock, act)
            after = states(site, clock)
            for name, state in after.items():
                assert state.line_m <= before[name].line_m
                assert state.state != "entry allowed" or before[name].state == "entry allowed"
            before = after


@FEW
@given(acts(ANY))
def test_nobody_is_let_past_an_unlifted_no_entry(stated: list[Act]) -> None:
    clock = SetClock()
    with mine(clock) as site:
        for act in stated:
            do(site, clock, act)
        for known in headings(site):
            state = entry(site, known.id, clock())
            for notice in notices(site, known.id):
                if notice.body.what != "restricted":
                    assert state.line_m <= notice.body.from_m
                    assert state.state in ("barricaded", "no entry, barrier not yet up")
