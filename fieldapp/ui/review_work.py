"""What the Review screen asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path

from fieldapp.report.words.entry import entry_said
from fieldapp.report.words.findings import dated, sentence
from fieldapp.report.words.lengths import Units, in_units
from fieldapp.report.words.work import went_beyond
from fieldapp.ui.round_work import Judged, entry_words, held_words, judged_now
from fieldapp.ui.translate import _
from fieldapp.work.batches import doubts_of_round
from fieldapp.work.deviations import NEVER, latest_end
from fieldapp.work.entry import entry
from fieldapp.work.once_signed import once_signed
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import open_round
from fieldapp.work.site import Session, Site
from fieldapp.work.work_figures import are_stated
from schemas.bodies.deviation import Deviation
from schemas.bodies.sign_off import Decision
from schemas.findings import Assessment, Finding, Place, Verdict

DECISIONS: tuple[Decision, ...] = ("accepted", "sent back", "barricaded")
JOBS_SHOWN = 5
NAMES_SHOWN = 6


@dataclass(frozen=True)
class Reviewed:
    """A round and what it comes to now."""

    judged: Judged
    entry_words: str
    held: str
    """What holds entry back whatever is signed; empty where nothing does."""
    lines: dict[Decision, str]
    """How far people may go once each decision is signed."""
    in_doubt: str
    """The batches in doubt that it used; empty where there is none."""


@dataclass(frozen=True)
class Afterwards:
    """What follows from a sign-off."""

    line: str
    path: Path
    radio: tuple[str, ...]


def reviewed(site: Site, heading_id: str, at: datetime) -> Reviewed | None:
    """Assess the open round of a heading; None where none is open any more."""
    known = open_round(site, heading_id)
    if known is None:
        return None
    units: Units = site.settings.units
    judged = judged_now(known.work, at, units)
    then = {it: once_signed(site, known.work, judged.assessment, it, at) for it in DECISIONS}
    now = entry(site, heading_id, at)
    accepted = then["accepted"].because if judged.assessment.may_be_accepted else ()
    return Reviewed(
        judged=judged,
        entry_words=entry_words(now, units),
        held=held_words(accepted or now.stays, units),
        lines={
            decision: _("hold · {entry}").format(entry=entry_words(state, units))
            for decision, state in then.items()
        },
        in_doubt=" ".join(sentence(it.words) for it in doubts_of_round(site, known.work.seen, at)),
    )


def afterwards(site: Site, heading_id: str, round_id: str) -> Afterwards:
    """Find where entry stands after a sign-off, and write the sheet of the round."""
    from fieldapp.report.handover import handover
    from fieldapp.report.printed import sheet_of, write_sheet

    said = entry_said(entry(site, heading_id, site.now()), site.settings.units)
    line = _("Entry to {line}, {bound}").format(line=said.at, bound=_(said.bound))
    path = write_sheet(site, round_id)
    site.store.holdings.seal()
    return Afterwards(line, path, handover(sheet_of(site, round_id)).lines)


def own_work(judged: Judged, session: Session | None) -> str:
    """Say that the person here installed the round; nothing where they did not."""
    if session is None or session.person_id not in judged.work.seen.installed_by:
        return ""
    said = _("{name} installed this round: another shift supervisor signs it.")
    return said.format(name=session.name)


def may_deviate(finding: Finding, session: Session | None) -> bool:
    """Whether this person can grant a deviation from a finding."""
    engineer = session is not None and "geotechnical engineer" in session.roles
    return engineer and not finding.lets_sign and bool(places_to_grant(finding))


def places_to_grant(finding: Finding) -> tuple[Place, ...]:
    """Give the places of a finding that a deviation can be granted for, one by one."""
    if finding.check in NEVER or finding.verdict in UNSEEN:
        return ()
    return tuple(place for place in finding.places if place.row is not None and place.row > 0)


UNSEEN = (Verdict.NOT_LOOKED_AT, Verdict.MEASURE_AGAIN)
"""What nobody knows, nobody can depart from."""


def deviation_at(
    site: Site, judged: Judged, finding: Finding, place: Place, reason: str
) -> Deviation:
    """Give the deviation for one place, to the latest end that the standard allows."""
    return Deviation(
        round=judged.work.round_id,
        check=finding.check,
        row=place.row,
        position=place.position,
        reason=reason,
        ends_at=latest_end(site, site.now()),
    )


def headline_words(assessment: Assessment) -> str:
    """Say what all findings come to, and what the worst hides."""
    if assessment.verdict is Verdict.ACCEPT:
        return _("Every finding is accepted")
    said = _(assessment.headline)
    return said[:1].upper() + said[1:]


def jobs_words(assessment: Assessment, units: Units, zone: tzinfo) -> tuple[str, list[str]]:
    """Say what is to be done: a title, and the jobs, each naming its place.

    The jobs are said in several ways, the longest first, for there may be room for few of them.
    """
    jobs = assessment.fix_list
    if not jobs and unseen(assessment):
        return _("Nothing to fix in what was looked at"), []
    if not jobs:
        return _("Nothing to fix"), []
    lines = [f"• {_(dated(in_units(job, units), zone))}" for job in jobs[:JOBS_SHOWN]]
    ways = [_first_jobs(lines, shown, len(jobs)) for shown in range(len(lines), 0, -1)]
    return _("To do, {n}").format(n=len(jobs)), ways


def _first_jobs(lines: Sequence[str], shown: int, in_all: int) -> str:
    more = in_all - shown
    left = [_("and {n} more, in the handover").format(n=more)] if more else []
    return "\n".join([*lines[:shown], *left])


def work_words(work: RoundWork) -> tuple[str, str]:
    """Say that somebody went beyond the last row, and quietly that nobody stated the work."""
    why = went_beyond(work.seen)
    beyond = _("Beyond the last row: {why}").format(why=_(why)) if why else ""
    return beyond, "" if are_stated(work) else _("Work figures not stated.")


def unseen(assessment: Assessment) -> tuple[Finding, ...]:
    """Give the findings whose ground nobody looked at."""
    return tuple(it for it in assessment.findings if it.verdict is Verdict.NOT_LOOKED_AT)


def unseen_words(assessment: Assessment) -> tuple[str, str]:
    """Say what nobody looked at: a title, and the names of the checks."""
    names = [_(it.title) for it in unseen(assessment)]
    if not names:
        return _("All was looked at that can be seen"), ""
    more = len(names) - NAMES_SHOWN
    listed = ", ".join(names[:NAMES_SHOWN]) + (
        _(" and {n} more").format(n=more) if more > 0 else ""
    )
    return _("Not looked at, {n}").format(n=len(names)), listed


def why_not(assessment: Assessment) -> str:
    """Say what stands in the way of accepting first."""
    blocking = next(it for it in assessment.findings if not it.lets_sign)
    return f"{_(blocking.title)}: {_(blocking.verdict.value)}"
