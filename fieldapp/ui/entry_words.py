"""One heading's entry in words, made beside the screen; no widgets here."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry_facts import EventFact
from fieldapp.assess.entry_state import EntryState, State
from fieldapp.report.lengths import Units, in_units, state_in
from fieldapp.ui.figures import line, metres
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.entry import entry
from fieldapp.work.events import events
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.notices import inspected_at, notices
from fieldapp.work.site import Site
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.findings import Verdict

MARKS: dict[State, Verdict] = {
    "entry allowed": Verdict.ACCEPT,
    "not known": Verdict.NOT_LOOKED_AT,
    "restricted": Verdict.REWORK,
    "barricaded": Verdict.NO_ENTRY,
    "no entry, barrier not yet up": Verdict.NO_ENTRY,
}


@dataclass(frozen=True)
class Stretch:
    """A part of the heading, and what holds there."""

    where: str
    state: str
    verdict: str
    detail: str = ""


@dataclass(frozen=True)
class Stated:
    """Something that holds entry back: a notice, an event, or what follows from the rounds."""

    verdict: str
    title: str
    detail: str = ""
    notice: Known[EntryNotice] | None = None
    event: Known[Event] | None = None


@dataclass(frozen=True)
class EntryPage:
    """Everything that the Entry screen shows of one heading."""

    heading_id: str
    name: str
    state: EntryState
    outbye: Stretch
    inbye: Stretch
    stated: tuple[Stated, ...]

    @property
    def notices(self) -> tuple[Stated, ...]:
        """What a person has stated and may lift."""
        return tuple(it for it in self.stated if it.notice is not None)

    @property
    def events(self) -> tuple[Stated, ...]:
        """What happened and wants an inspection."""
        return tuple(it for it in self.stated if it.event is not None)

    @property
    def wants_barrier(self) -> bool:
        """Whether people are kept out by nothing but this screen."""
        return self.state.state == "no entry, barrier not yet up"


@dataclass(frozen=True)
class _Said:
    """How a mine says lengths and times."""

    units: Units
    zone: ZoneInfo

    def metres(self, value_m: Decimal) -> str:
        return metres(value_m, self.units)

    def line(self, line_m: Decimal) -> str:
        return line(line_m, self.units)

    def clock(self, at: datetime) -> str:
        return f"{at.astimezone(self.zone):%H:%M}"


def entry_page(site: Site, heading_id: str, at: datetime) -> EntryPage:
    """Look at one heading."""
    place = heading(site, heading_id)
    state = entry(site, place.id, at)
    said = _Said(site.settings.units, ZoneInfo(site.settings.zone))
    stated = (*_notices(site, place.id, said), *_events(site, place.id, said, at))
    return EntryPage(
        heading_id=place.id,
        name=short(place.body.name),
        state=state,
        outbye=_outbye(state, said),
        inbye=_inbye(state, said),
        stated=(*stated, *_reasons(state_in(state, said.units)), *_doubts(state)),
    )


def _outbye(state: EntryState, said: _Said) -> Stretch:
    where = _("Outbye, to {line}").format(line=said.line(state.line_m))
    return Stretch(where, str(state.outbye), MARKS[state.outbye].value)


def _inbye(state: EntryState, said: _Said) -> Stretch:
    where = _("Inbye, to the face at {face}").format(face=said.metres(state.face_m))
    details = []
    if state.state == "restricted" and state.until is not None:
        details.append(_("until {time}").format(time=said.clock(state.until)))
    if state.cut_off:
        details.append(_("who is inbye is cut off: no other way out is recorded"))
    return Stretch(where, str(state.state), state.verdict.value, "; ".join(details))


def _notices(site: Site, heading_id: str, said: _Said) -> Iterator[Stated]:
    for known in notices(site, heading_id):
        body = known.body
        restricted = body.what == "restricted"
        verdict = Verdict.REWORK if restricted else Verdict.NO_ENTRY
        where = said.line(body.from_m) if body.from_m else ""
        title = _title(body, where)
        who = str(body.role or _("nobody signed in"))
        parts = [
            f"{who}, {said.clock(known.entry.made_at)}",
            in_units(body.reason or "", said.units),
            _inbye_said(body),
        ]
        yield Stated(verdict.value, title, " · ".join(filter(None, parts)), notice=known)


def _title(body: EntryNotice, where: str) -> str:
    what = {
        "no entry": _("No entry"),
        "barrier up": _("Barricaded"),
        "restricted": _("Restricted to {who}").format(who=body.restricted_to or _("some")),
    }[body.what]
    place = _("from {place}").format(place=where) if where else _("in the whole heading")
    return f"{what} {place}"


def _inbye_said(body: EntryNotice) -> str:
    if body.what == "restricted":
        return ""
    return {
        None: _("is anyone inbye?"),
        True: _("SOMEBODY IS INBYE"),
        False: _("nobody is inbye"),
    }[body.anyone_inbye]


def _events(site: Site, heading_id: str, said: _Said, at: datetime) -> Iterator[Stated]:
    for known in events(site, heading_id):
        body = known.body
        if EventFact(known.id, body, inspected_at(site, known.id)).is_over(at):
            continue
        what = body.what.capitalize()
        if body.fired_m is not None:
            what = f"{what} {said.metres(body.fired_m)}"
        title = _("{what} at {place}").format(what=what, place=said.metres(body.chainage_m))
        wait = _("nobody within {radius}").format(radius=said.metres(body.radius_m))
        until = _("until somebody has inspected")
        if at < body.excluded_until:
            clock = said.clock(body.excluded_until)
            until = _("until {time} and an inspection").format(time=clock)
        yield Stated(Verdict.NO_ENTRY.value, title, f"{wait}, {until}", event=known)


def _reasons(state: EntryState) -> Iterator[Stated]:
    """Give what follows from the rounds; notices and events stand in their own words."""
    own = ("no entry: ", "barricaded: ", "restricted to ", "the permission for ")
    happened = (" and an inspection", "until somebody inspects")
    for reason in state.because:
        if not reason.startswith(own) and not reason.endswith(happened):
            yield Stated("", reason[:1].upper() + reason[1:])


def _doubts(state: EntryState) -> Iterator[Stated]:
    """Give the batches in doubt, last: they hold nobody back."""
    for doubt in state.doubts:
        detail = " · ".join(filter(None, (doubt.waits, doubt.reason)))
        yield Stated("", f"{doubt.title[:1].upper()}{doubt.title[1:]}", detail)
