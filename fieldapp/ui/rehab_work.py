"""What the Rehab list asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.report.words.damage import (
    HOLDS,
    due_words,
    observations,
    place_words,
    repair_words,
    severity_words,
    span_of,
    standing_words,
    walked_words,
)
from fieldapp.report.words.findings import BETWEEN, when
from fieldapp.report.words.read_and_today import place_read_words
from fieldapp.ui.damage_work import MARKS, RankWords, rank_words
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.authority import ENGINEER, INSPECTORS, counting
from fieldapp.work.called import called
from fieldapp.work.damage.draft import DamageWork, begun_damages
from fieldapp.work.headings import heading
from fieldapp.work.people import name_of
from fieldapp.work.rehab.rehab_list import RehabRow, Standing, rehab_list
from fieldapp.work.rehab.steps import WORKERS
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.writing import NOBODY
from schemas.bodies.person import Role
from schemas.bodies.rehab import Outcome
from schemas.findings import Verdict
from schemas.rehab_rules import RehabPriority, Severity
from schemas.standard import Standard

VERIFIED_AS: Final[dict[Outcome, str]] = {
    "restored": _("restored, and verified by somebody else"),
    "patched": _("patched, and verified by somebody else"),
}
DECIDED_AS: Final[dict[Standing, str]] = {
    "verified": _("verified {time} by {who}"),
    "refused": _("refused {time} by {who}"),
    "reopened": _("reopened {time} by {who}"),
}
BARRICADED: Final = ("in hand", "done", "refused", "reopened")


@dataclass(frozen=True)
class Act:
    """One thing that can be done about a repair now, and who may."""

    name: str
    title: str
    roles: tuple[Role, ...] = ()
    """Empty: anyone."""
    whose: str = ""
    """The roles in few words."""
    not_own_work: bool = False


PLAN = Act("plan", _("Plan repair"), ENGINEER, _("the engineer only"))
PROPOSE = Act("propose", _("Propose repair"), INSPECTORS, _("supervisor or technician"))
DECIDE = Act("decide", _("Priority"), ENGINEER, _("the engineer only"))
BEGIN = Act("begin", _("Begin"), WORKERS, _("crew or supervisor"))
DONE = Act("done", _("Done"), WORKERS, _("crew or supervisor"))
VERIFY = Act("verify", _("Verify"), INSPECTORS, _("supervisor or technician"), not_own_work=True)
REFUSE = Act("refuse", _("Refuse"), INSPECTORS, _("supervisor or technician"), not_own_work=True)
REOPEN = Act("reopen", _("Reopen"))
CORRECT = Act("correct", _("Correct"), INSPECTORS, _("supervisor or technician"))
ACTS: Final[dict[Standing, tuple[Act, ...]]] = {
    "not planned": (PLAN, DECIDE),
    "patched": (PLAN,),
    "proposed": (PLAN,),
    "planned": (BEGIN,),
    "refused": (BEGIN,),
    "reopened": (BEGIN,),
    "in hand": (DONE,),
    "done": (VERIFY, REFUSE),
    "verified": (REOPEN,),
}


@dataclass(frozen=True)
class Observed:
    """One observation that can be put right."""

    id: str
    seen: str
    """When it was."""
    told: str


@dataclass(frozen=True)
class BegunLine:
    """Damage that was begun to be recorded here, in words; it counts as nothing yet."""

    work: DamageWork
    where: str
    what: str


def begun_lines(site: Site) -> tuple[BegunLine, ...]:
    """Give what was begun and is neither kept nor discarded, whatever became of the tablet."""
    return tuple(_begun(site, work) for work in begun_damages(site))


def _begun(site: Site, work: DamageWork) -> BegunLine:
    where = short(heading(site, work.about.heading_id).body.name)
    if work.about.corrects is not None:
        what = _("correct damage")
    elif work.said.get("again") is not None:
        what = _("damage seen again")
    else:
        what = _(work.said.get("kind") or "record damage")
    return BegunLine(work, where, what)


@dataclass(frozen=True)
class RehabLine:
    """One line of the list, in words."""

    row: RehabRow
    verdict: str
    title: str
    detail: str
    rank: RankWords
    called: str
    seen: tuple[str, ...]
    """What was seen of the most urgent damage, the newest first."""
    observed: tuple[Observed, ...]
    """What was seen of all its damage last, without what was decided."""
    order_of_work: str
    done: tuple[str, ...]
    """What was said of the work."""
    priorities: tuple[RehabPriority, ...]
    """Of the standard in force."""

    installers: frozenset[str]
    """Ids of those who did the work, while somebody is to verify it."""

    def acts(self, session: Session | None) -> tuple[Act, ...]:
        """Give what can be done about it now; where only an engineer plans, others propose."""
        acts = ACTS[self.row.state]
        if acts[0] is PLAN and self.row.rehab is None and not may(PLAN, session):
            return (PROPOSE, *acts[1:])
        return acts

    def why_not(self, act: Act, session: Session | None) -> str:
        """Say in few words why somebody can't do it; nothing where they can."""
        if not act.roles:
            return ""
        if session is None:
            return _("sign in first")
        if not session.has(*act.roles):
            return act.whose
        return _("you did the work") if self._is_own(act, session) else ""

    def _is_own(self, act: Act, session: Session) -> bool:
        return act.not_own_work and session.person_id in self.installers


def may(act: Act, session: Session | None) -> bool:
    """Tell whether somebody has a role for it."""
    return not act.roles or (session is not None and session.has(*act.roles))


def rehab_lines(site: Site) -> tuple[RehabLine, ...]:
    """Look at everything that is to be repaired, the most urgent first."""
    rows = rehab_list(site, site.now(), verified=True)
    try:
        standard = in_force(site, site.now()).body
    except NoStandard:
        standard = None
    return tuple(_line(site, row, standard) for row in rows)


def _line(site: Site, row: RehabRow, standard: Standard | None) -> RehabLine:
    card = standard.severities if standard else ()
    ranked, units = row.ranked, site.settings.units
    zone = ZoneInfo(site.settings.zone)
    kinds = ", ".join(dict.fromkeys(_(it.newest.kind) for it in row.damages))
    due = due_words(ranked, zone) if ranked and row.is_open else ""
    code = ranked.code if ranked else "P?"
    first = row.damages[0] if row.damages else None
    walked = walked_words(first.walked, zone) if first and row.is_open else ""
    return RehabLine(
        row=row,
        verdict=verdict_of(row),
        title=f"{code}{BETWEEN}{short(row.heading)}, {span_of(row, units)}",
        detail=", ".join(filter(None, (kinds, _kept_away(row), standing_words(row), due, walked))),
        rank=_rank(site, row),
        called=called(first.id if first else row.id),
        seen=observations(first, units, zone, card) if first else (),
        observed=tuple(_observed(site, row, card)),
        order_of_work=row.rehab.order_of_work if row.rehab else "",
        done=(*_decided(site, row), *repair_words(row.rehab, units, zone)) if row.rehab else (),
        installers=counting(site).installers(row.id) if row.state == "done" else frozenset(),
        priorities=standard.priorities if standard else (),
    )


def _kept_away(row: RehabRow) -> str:
    """Say who is kept from beneath what nobody repairs yet: "nobody on foot beneath"."""
    holds = row.ranked.holds if row.ranked and row.is_open else "open"
    return "" if holds == "open" or row.state in BARRICADED else _(HOLDS[holds])


def _rank(site: Site, row: RehabRow) -> RankWords:
    """Say how soon and who goes beneath: nobody behind a barrier, whatever the damage allows."""
    if row.ranked is None:
        return RankWords()
    words = rank_words(site, row.ranked)
    if row.state == "verified" and row.rehab is not None:
        done = _(VERIFIED_AS[row.rehab.outcome or "restored"])
        return replace(words, title=done, verdict=verdict_of(row), state="", reasons=())
    if row.state not in BARRICADED:
        return words
    return replace(words, state=_(HOLDS["no entry"]), verdict=verdict_of(row))


def _decided(site: Site, row: RehabRow) -> Iterator[str]:
    """Yield who looked at a repair and when: "verified 6 May 2031 09:30 UTC by Technician"."""
    if row.state in DECIDED_AS and row.stated is not None:
        at, by = when(row.stated.made_at, ZoneInfo(site.settings.zone)), row.stated.author
        who = _("somebody not signed in") if by == NOBODY else name_of(site, by)
        yield _(DECIDED_AS[row.state]).format(time=at, who=who)


def _observed(site: Site, row: RehabRow, card: Sequence[Severity]) -> Iterator[Observed]:
    zone = ZoneInfo(site.settings.zone)
    for known in row.damages:
        for it in reversed(known.damage.seen):
            if it.damage.decided is None:
                seen = it.damage
                code = seen.severity
                judged = severity_words(code, card) if code else _("not judged")
                units = site.settings.units
                place = place_words(seen.model_copy(update={"s_m": None}), units)
                read = place_read_words(it.read_m, seen.chainage_m, units)
                told = f"{_(seen.kind)}, {judged}, {read or place}"
                yield Observed(it.id, when(seen.seen_at, zone), told)


def verdict_of(row: RehabRow) -> str:
    """Give the mark of what entry is there now."""
    if row.state == "verified":
        return str(Verdict.ACCEPT)
    if row.state in BARRICADED:
        return str(Verdict.NO_ENTRY)
    return str(MARKS[row.ranked.holds]) if row.ranked else str(Verdict.NOT_LOOKED_AT)
