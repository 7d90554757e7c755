"""What the Bolt test screen asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from fieldapp.assess.bolt_tests import Result
from fieldapp.report.words.bolt_test import KINDS, place_words
from fieldapp.report.words.findings import sentence
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.asked import Asked
from fieldapp.work.batches import batches
from fieldapp.work.bolt_tests.correcting import lets_a_failure_go
from fieldapp.work.bolt_tests.draft import (
    BoltTestWork,
    begin_bolt_test,
    begin_correction,
    begun_bolt_tests,
)
from fieldapp.work.bolt_tests.pick import PickFrom, Rig
from fieldapp.work.bolt_tests.pulls import rule_of
from fieldapp.work.bolt_tests.put_right import (
    is_pending,
    is_put_right,
    looked_over,
    question_of_correction,
)
from fieldapp.work.bolt_tests.questions import question_now
from fieldapp.work.bolt_tests.recording import (
    accepted_rounds,
    bolt_tests,
    preview,
)
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import NoStandard, in_force
from schemas.bodies.bolt_test import BoltTest
from schemas.standard import Standard


@dataclass(frozen=True)
class ResultWords:
    """What a test comes to so far."""

    title: str = ""
    state: str = ""
    verdict: str = ""
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True)
class BoltTestPage:
    """Everything that is shown of one test on its way."""

    heading_id: str
    name: str
    work: BoltTestWork
    question: Asked | None
    result: ResultWords
    where: str
    points: tuple[tuple[float, float], ...]
    """Displacement and load of each reading. [mm, kN]"""
    load_kn: float
    slip_mm: float
    """Demanded and allowed; 0 where the standard says nothing."""
    can_keep: bool
    lets_a_failure_go: bool
    """What is kept counts once an engineer agrees, but for an engineer's own word."""

    @property
    def pulls(self) -> bool:
        """Whether there are readings to draw."""
        return self.work.said.get("kind") in ("proof pull", "destructive pull")

    def held(self, now: datetime) -> timedelta | None:
        """Give for how long the hold timer has been running; None while it is not."""
        since = self.work.held_since
        return None if since is None else now - since


NO_RESULT: Final = ResultWords()
NOT_YET: Final = ResultWords(reasons=(_("What it comes to stands here once something was read."),))


def opened_correction(site: Site, test_id: str, session: Session | None) -> BoltTestPage:
    """Go on with putting a test right, or begin."""
    return bolt_test_page(site, begin_correction(site, test_id, session))


def opened_test(
    site: Site, heading_id: str, began: Mapping[str, Any], test_id: str | None
) -> BoltTestPage:
    """Go on with a test of a heading, or begin one."""
    going_on = (it for it in begun_bolt_tests(site) if it.test_id == test_id)
    work = next(going_on, None) or begin_bolt_test(site, heading_id, began)
    return bolt_test_page(site, work)


def bolt_test_page(site: Site, work: BoltTestWork) -> BoltTestPage:
    """Show one test as it stands: what is asked next, and what it comes to."""
    place = heading(site, work.about.heading_id)
    standard = _standard(site)
    rule, test = rule_of(work, standard), work.test
    units = site.settings.units
    read = test is not None and bool(test.pulled or test.cores_mpa or test.torque_nm is not None)
    corrects = work.about.corrects is not None
    pick = _pick(site, place.id, standard)
    left = question_now(work, pick)
    question = question_of_correction(work, pick) if corrects else left
    if question is None:
        question = looked_over(work)
    result = preview(site, test) if test is not None and read else None
    return BoltTestPage(
        heading_id=place.id,
        name=short(place.body.name),
        work=work,
        question=question,
        result=result_words(result, so_far=is_pending(question)) if result else NOT_YET,
        where=", ".join(filter(None, (_what(work), place_words(test, units) if test else ""))),
        points=tuple((float(it["displacement_mm"]), float(it["load_kn"])) for it in work.readings),
        load_kn=float(rule.proof_kn) if rule else 0.0,
        slip_mm=float(rule.slip_at_most_mm) if rule else 0.0,
        can_keep=read and (is_put_right(work, question) if corrects else left is None),
        lets_a_failure_go=test is not None
        and work.about.corrects is not None
        and lets_a_failure_go(site, work.about.corrects, test),
    )


def _what(work: BoltTestWork) -> str:
    """Say which test it is, as far as that was said: "proof pull, RB24"."""
    kind, bolt_type = (work.said.get(it) for it in ("kind", "bolt_type"))
    return ", ".join(filter(None, (_(KINDS[kind]) if kind else "", bolt_type)))


def result_words(result: Result, *, so_far: bool = False) -> ResultWords:
    """Put into words what a test comes to, or what it comes to so far."""
    demanded = _("demanded: {limit}").format(limit=result.limit) if result.limit else ""
    clause = f" ({result.clause})" if result.clause else ""
    outcome = _(result.outcome)
    if so_far and not result.failed:
        outcome = _("so far: {outcome}").format(outcome=outcome)
    return ResultWords(
        title=sentence(outcome).removesuffix("."),
        state=sentence(_(result.because)),
        verdict=str(result.verdict),
        reasons=(sentence(f"{demanded}{clause}"),) if demanded else (),
    )


def _pick(site: Site, heading_id: str, standard: Standard | None) -> PickFrom:
    now = site.now()
    return PickFrom(
        standard=standard,
        rounds=accepted_rounds(site, heading_id),
        face_m=entry(site, heading_id, now).face_m,
        crews=site.settings.crews,
        batches=batches(site),
        rigs=_rigs(it.test for it in bolt_tests(site)),
        today=now.astimezone(ZoneInfo(site.settings.zone)),
    )


def _rigs(newest_first: Iterator[BoltTest]) -> tuple[Rig, ...]:
    """Give the rigs and wrenches that were used before, each as the newest test has it."""
    found: dict[str, Rig] = {}
    for test in newest_first:
        if test.rig is not None:
            rig = Rig(test.rig, test.rig_checked_at, turns=test.kind == "torque")
            found.setdefault(test.rig, rig)
    return tuple(found.values())


def _standard(site: Site) -> Standard | None:
    try:
        return in_force(site, site.now()).body
    except NoStandard:
        return None
