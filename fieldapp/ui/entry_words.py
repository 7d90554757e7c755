"""One heading's entry in words, made beside the screen; no widgets here."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.cables import finding_words
from fieldapp.assess.entry.facts import EventFact
from fieldapp.assess.entry.state import EntryState, State
from fieldapp.report.words.damage import due_words, holds_words, place_words, standing_words
from fieldapp.report.words.entry import EntrySaid, entry_said
from fieldapp.report.words.findings import BETWEEN, when_from
from fieldapp.report.words.lengths import Units, in_units
from fieldapp.ui.figures import line, metres
from fieldapp.ui.names import fewer_words, short
from fieldapp.ui.rehab_work import BARRICADED, verdict_of
from fieldapp.ui.translate import _
from fieldapp.work.clocks import doubted
from fieldapp.work.entry import entry, has_ended
from fieldapp.work.events import events
from fieldapp.work.headings import heading
from fieldapp.work.intersection.seen import findings
from fieldapp.work.intersection.steps import intersections, waits_for
from fieldapp.work.known import Known
from fieldapp.work.notices import inspected_at, notices
from fieldapp.work.rehab.rehab_list import rehab_rows
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
    details: tuple[str, ...] = ("",)
    """Ways to say until when and why, the longest first."""


@dataclass(frozen=True)
class Stated:
    """Something that holds entry back: a notice, an event, or what follows from the rounds."""

    verdict: str
    title: str
    detail: str = ""
    notice: Known[EntryNotice] | None = None
    event: Known[Event] | None = None
    damage: str = ""
    """Id of the damage that holds entry, or is being repaired."""
    failed_test: str = ""
    """Id of a test that support failed, not recorded as damage yet."""
    batch: str = ""
    """Label of a batch in doubt."""
    intersection: str = ""
    """Id of an intersection of the heading."""


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
    """How a mine says lengths, and times as they are said now."""

    units: Units
    now: datetime

    def metres(self, value_m: Decimal) -> str:
        return metres(value_m, self.units)

    def line(self, line_m: Decimal) -> str:
        return line(line_m, self.units)

    def clock(self, at: datetime) -> str:
        return when_from(at, self.now)


def entry_page(site: Site, heading_id: str, at: datetime) -> EntryPage:
    """Look at one heading."""
    place = heading(site, heading_id)
    state = entry(site, place.id, at)
    said = _Said(site.settings.units, at.astimezone(ZoneInfo(site.settings.zone)))
    words = entry_said(state, said.units)
    stated = (
        *_notices(site, place.id, said),
        *_events(site, place.id, said, at),
        *_damage(site, place.id, said),
        *_failed_tests(state, said.units),
        *_intersections(site, place.id, said.units),
    )
    return EntryPage(
        heading_id=place.id,
        name=short(place.body.name),
        state=state,
        outbye=_outbye(state, words),
        inbye=_inbye(state, words),
        stated=(*stated, *_reasons(state, said.units), *_deviations(state), *_doubts(state)),
    )


def _outbye(state: EntryState, entry: EntrySaid) -> Stretch:
    """Say how far people may go, which comes first, and how the ground up to there is known."""
    where, mark = _("Outbye: the way in"), MARKS[state.outbye].value
    line = _("to {line}, {bound}").format(line=entry.at, bound=_(entry.bound))
    return Stretch(where, line, mark, fewer_words(_(entry.up_to_it)))


def _inbye(state: EntryState, entry: EntrySaid) -> Stretch:
    """Say what holds beyond the entry line, where nobody goes."""
    where = _("Inbye: from there to the face at {face}").format(face=entry.face)
    if not entry.beyond:
        return Stretch(where, _("nothing is left"), "")
    cut_off = _("who is inbye is cut off: no other way out is recorded") if state.cut_off else ""
    why = fewer_words(_(entry.why)) if entry.why else ("",)
    details = tuple("; ".join(filter(None, (it, cut_off))) for it in why)
    mark = state.mark.value if state.mark else ""
    return Stretch(where, _(entry.beyond), mark, details)


def _notices(site: Site, heading_id: str, said: _Said) -> Iterator[Stated]:
    is_doubted = doubted(site)
    for known in notices(site, heading_id):
        body = known.body
        ended = has_ended(site, body.until, said.now)
        restricted = body.what == "restricted" and not ended
        verdict = Verdict.REWORK if restricted else Verdict.NO_ENTRY
        where = said.line(body.from_m) if body.from_m else ""
        title = _title("barrier up" if ended else body.what, body, where)
        who = str(body.role or _("nobody signed in"))
        parts = [
            f"{who}, {said.clock(known.entry.made_at)}",
            _("the tablet's clock was off: time in doubt") if is_doubted(known.entry) else "",
            _ending(body, said, ended=ended),
            in_units(body.reason or "", said.units),
            _inbye_said(body),
        ]
        yield Stated(verdict.value, title, " · ".join(filter(None, parts)), notice=known)


def _title(stands_as: str, body: EntryNotice, where: str) -> str:
    what = {
        "no entry": _("No entry"),
        "barrier up": _("Barricaded"),
        "restricted": _("Restricted to {who}").format(who=body.restricted_to or _("some")),
    }[stands_as]
    place = _("from {place}").format(place=where) if where else _("in the whole heading")
    return f"{what} {place}"


def _ending(body: EntryNotice, said: _Said, *, ended: bool) -> str:
    """Say when a permission ends: the time beside it is when it was stated."""
    if body.until is None:
        return ""
    if ended:
        permitted = _("the permission for {who} ended {time}")
        return permitted.format(who=body.restricted_to or _("some"), time=said.clock(body.until))
    return _("ends {time}").format(time=said.clock(body.until))


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
        if body.stripped is not None:  # it stands among the reasons: no inspection ends it
            continue
        if EventFact(known.id, body, inspected_at(site, known.id)).is_over(at):
            continue
        what = body.what.capitalize()
        if body.fired_m is not None:
            what = f"{what} {said.metres(body.fired_m)}"
        title = _("{what} at {place}").format(what=what, place=said.metres(body.chainage_m))
        wait = _("nobody within {radius}").format(radius=said.metres(body.radius_m))
        until = _("until somebody has inspected")
        if said.now < body.excluded_until:
            clock = said.clock(body.excluded_until)
            until = _("until {time} and an inspection").format(time=clock)
        yield Stated(Verdict.NO_ENTRY.value, title, f"{wait}, {until}", event=known)


def _damage(site: Site, heading_id: str, said: _Said) -> Iterator[Stated]:
    """Give damage that holds entry, and what is barricaded while it is repaired."""
    for row in rehab_rows(site, heading_id, said.now):
        ranked, first = row.ranked, next(iter(row.damages), None)
        if first is None or ranked is None:
            continue
        if ranked.holds == "open" and row.state not in BARRICADED:
            continue
        title = _("{kind} at {place}").format(
            kind=_(first.newest.kind).capitalize(), place=place_words(first.newest, said.units)
        )
        due = due_words(ranked, ZoneInfo(site.settings.zone))
        parts = (holds_words(ranked), f"{ranked.code}, {due}", standing_words(row))
        yield Stated(verdict_of(row), title, BETWEEN.join(parts), damage=first.id)


def _intersections(site: Site, heading_id: str, units: Units) -> Iterator[Stated]:
    """Give every intersection of the heading, and what its cables and its support wait for."""
    for known in intersections(site, heading_id):
        where = metres(known.body.from_m, units)
        found, waits = findings(site, known), waits_for(site, known)
        holding = [it for it in found if it.holds.gravity > Verdict.FIX_THIS_SHIFT.gravity]
        reasons = [_("cables {why}").format(why=_(waits))] * bool(waits)
        reasons += [in_units(_(finding_words(it)), units) for it in holding[:1]]
        graver = max([it.verdict for it in holding], key=lambda it: it.gravity, default=None)
        verdict = graver or (Verdict.REWORK if waits else Verdict.ACCEPT)
        yield Stated(
            verdict.value,
            _("Intersection at {place}").format(place=where),
            "; ".join(reasons) or _("entry is not restricted by it"),
            intersection=known.id,
        )


def _failed_tests(state: EntryState, units: Units) -> Iterator[Stated]:
    """Give failed support that nobody has recorded as damage, with the next step."""
    for it in state.failed_tests:
        title, detail = (
            in_units(_(said), units) for said in (it.title, f"{it.then}{BETWEEN}{it.because}")
        )
        title = f"{title[:1].upper()}{title[1:]}"
        yield Stated(Verdict.REWORK.value, title, detail, failed_test=it.test_id)


def _reasons(state: EntryState, units: Units) -> Iterator[Stated]:
    """Give what follows from the rounds; notices and events stand in their own words."""
    told = (it.words for it in state.reasons if it.origin != "stated")
    for reason in dict.fromkeys(in_units(words, units) for words in told):
        said = _(reason)
        yield Stated("", f"{said[:1].upper()}{said[1:]}")


def _deviations(state: EntryState) -> Iterator[Stated]:
    """Give the deviations under which rounds stand accepted: whoever enters knows of them."""
    for it in state.deviations:
        title = _("{round} accepted under deviation").format(round=_(it.round).capitalize())
        detail = _("{what}, until {until}").format(what=_(it.what), until=it.until)
        yield Stated("", title, detail)


def _doubts(state: EntryState) -> Iterator[Stated]:
    """Give the batches in doubt, last: they hold nobody back."""
    for doubt in state.doubts:
        detail = " · ".join(filter(None, (doubt.waits, doubt.reason)))
        title = f"{doubt.title[:1].upper()}{doubt.title[1:]}"
        yield Stated("", title, detail, batch=doubt.batch)
