"""Making the demo mine: its people, standard and headings, then its story, step by step."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal
from hashlib import sha256
from importlib import resources

from fieldapp.work.batches import add_batch
from fieldapp.work.demo.history import LASTS, Hand, History, Progress
from fieldapp.work.demo.people import (
    DAY,
    DEMO_PEOPLE,
    ENGINEER,
    KEEPER,
    MINE_NAME,
    NIGHT,
    SITE_CODE,
    DemoPerson,
    enrol_everybody,
    on_shift,
    session_of,
)
from fieldapp.work.demo.story import (
    HEADINGS,
    STORY,
    Fired,
    Inspected,
    LookedAt,
    Step,
    heading_body,
)
from fieldapp.work.demo.walking import StoryClock, walk
from fieldapp.work.events import report_event
from fieldapp.work.face import face
from fieldapp.work.headings import add_heading, heading
from fieldapp.work.mine import start_mine
from fieldapp.work.notices import answer
from fieldapp.work.notices import inspect as inspect_after
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import person
from fieldapp.work.rounds import begin_round
from fieldapp.work.sign import Signing, sign_round
from fieldapp.work.site import Chance, Session, Site
from fieldapp.work.standard_in_force import adopt
from schemas.bodies.batch import Batch
from schemas.bodies.heading import Heading
from schemas.reading import read_model
from schemas.standard import Standard

BEGINS = timedelta(hours=72)

BATCHES = (
    ("LB50-0102", "bolts", "LB50", "5.0"),
    ("PB24-0415", "bolts", "PB24", "2.4"),
    ("RB24-0731", "bolts", "RB24", "2.4"),
    ("RES-0118", "resin", None, None),
    ("WM-0055", "mesh", None, None),
)


@dataclass(frozen=True)
class _Teller:
    """Who tells the story: the site under the story's clock, and everybody's session."""

    site: Site
    clock: StoryClock
    present: datetime
    sessions: dict[DemoPerson, Session]

    def supervisor(self) -> DemoPerson:
        """Give the supervisor of the shift that it is."""
        return on_shift(self.clock(), self.site.settings.zone)


def make_demo(site: Site, *, past: Progress | None = None, story: Sequence[Step] = STORY) -> Site:
    """Start the demo mine in an empty home: the same story before every present.

    Everything follows from the site's clock, except the tablet's own key and what it signs.

    Parameters
    ----------
    site : Site
        The empty home.
    past : callable, optional
        Hears how much of the mine's past is told; without it the mine has none, and its record
        begins with the story of the last days.
    story : sequence of Step, optional
        What has happened in the last days.

    Raises
    ------
    MineStarted
        This home holds a mine already.
    """
    present = site.now()
    begins = present - BEGINS
    clock = StoryClock(begins if past is None else begins - LASTS)
    making = replace(site, now=clock, chance=_seeded())
    making = start_mine(making, MINE_NAME, site_code=SITE_CODE, demo=True)
    enrol_everybody(making)
    sessions = {who: session_of(making, who) for who in (DAY, NIGHT, ENGINEER, KEEPER)}
    teller = _Teller(making, clock, present, sessions)
    adopt(teller.site, demo_standard(clock()), sessions[ENGINEER])
    if past is None:
        _enter_headings(teller, map(heading_body, HEADINGS))
    else:
        _tell_the_past(teller, past)
        clock.at = begins
    _enter_batches(teller)
    for step in story:
        clock.at = present - timedelta(hours=step.hours_ago)
        _DONE[type(step)](teller, step)
    making.store.sealing.seal()
    return replace(site, mine=making.mine)


def demo_standard(before: datetime) -> Standard:
    """Give the demo's standard, in force at a time even where the tablet's clock is behind."""
    raw = resources.files("assets").joinpath("demo/standard.json").read_bytes()
    standard = read_model(raw, Standard, source="the demo's standard")
    from_then = min(standard.effective_from, before)
    return standard.model_copy(update={"effective_from": from_then})


def _tell_the_past(teller: _Teller, told: Progress) -> None:
    """Enter the headings as they were, then tell what happened until the last days."""
    history = History.of(demo_standard(teller.clock()))
    _enter_headings(teller, history.headings())
    hands = {who: _hand(teller, who) for who in DEMO_PEOPLE}
    history.tell(teller.site, teller.clock(), hands, told)


def _hand(teller: _Teller, who: DemoPerson) -> Hand:
    session = teller.sessions.get(who) or session_of(teller.site, who)
    return Hand(session, key_with(teller.site, person(teller.site, who.name), who.sign_code))


def _enter_headings(teller: _Teller, bodies: Iterable[Heading]) -> None:
    for body in bodies:
        teller.clock.go_on(timedelta(seconds=20))
        add_heading(teller.site, body, teller.sessions[KEEPER])


def _enter_batches(teller: _Teller) -> None:
    for label, of, bolt_type, length_m in BATCHES:
        batch = Batch.model_validate(
            {"label": label, "of": of, "bolt_type": bolt_type, "length_m": length_m}
        )
        add_batch(teller.site, batch, teller.sessions[KEEPER])


def _fire(teller: _Teller, step: Step) -> None:
    assert isinstance(step, Fired)  # noqa: S101 - the table below says so
    place = heading(teller.site, step.heading)
    at_m = face(teller.site, place).chainage_m
    session = teller.sessions[teller.supervisor()]
    fired_m = Decimal(step.metres)
    report_event(teller.site, place.id, "fired", at_m, session, fired_m=fired_m)


def _inspect(teller: _Teller, step: Step) -> None:
    assert isinstance(step, Inspected)  # noqa: S101 - the table below says so
    place = heading(teller.site, step.heading)
    up_to_m = face(teller.site, place).chainage_m
    inspect_after(teller.site, place.id, teller.sessions[teller.supervisor()], up_to_m=up_to_m)


def _look(teller: _Teller, step: Step) -> None:
    assert isinstance(step, LookedAt)  # noqa: S101 - the table below says so
    site, who = teller.site, teller.supervisor()
    session = teller.sessions[who]
    place = heading(site, step.heading)
    work = begin_round(site, place.id, session, rows=step.rows)
    work = walk(site, teller.clock, work, session, step.look)
    if step.decision is None:
        return
    signing = Signing(work, step.decision, teller.clock())
    signed = sign_round(site, session, signing, who.sign_code)
    if signed.notice is not None:
        teller.clock.go_on(timedelta(minutes=12))
        answer(site, signed.notice.id, session, anyone_inbye=False, barrier_up=True)


_DONE: dict[type[Step], Callable[[_Teller, Step], None]] = {
    Fired: _fire,
    Inspected: _inspect,
    LookedAt: _look,
}


def _seeded() -> Chance:
    """Give the same bytes in the same order each time: ids and keys of the demo alike."""
    drawn = 0

    def chance(count: int) -> bytes:
        nonlocal drawn
        drawn += 1
        return sha256(f"Wrenfall {drawn}".encode()).digest()[:count]

    return chance
