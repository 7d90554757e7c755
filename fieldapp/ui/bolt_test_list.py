"""What the list of bolt tests asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.assess.bolt_tests import Opened, Together, pull_rule
from fieldapp.report.words.bolt_test import (
    KINDS,
    by_now_lines,
    corrected_lines,
    due_title,
    due_why,
    kind_words,
    of_words,
    opened_words,
    place_words,
    together_lines,
    together_title,
    waiting_lines,
)
from fieldapp.report.words.findings import BETWEEN, sentence, when
from fieldapp.report.words.lengths import chainage_words
from fieldapp.ui.bolt_test_work import NO_RESULT, ResultWords, result_words
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.bolt_test_record import by_standard_now, standard_of
from fieldapp.work.bolt_tests.correcting import before, still_doubted
from fieldapp.work.bolt_tests.draft import BOLT_ROW, BoltTestWork, begun_bolt_tests
from fieldapp.work.bolt_tests.recording import (
    BoltTestKnown,
    HeadingTests,
    bolt_tests_by_heading,
    heading_tests,
    together,
)
from fieldapp.work.called import called
from fieldapp.work.damage.draft import DamageWork, begin_damage_at, begun_damages
from fieldapp.work.headings import heading
from fieldapp.work.people import name_of
from fieldapp.work.site import Site
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import DamageKind
from schemas.findings import Verdict


@dataclass(frozen=True)
class PullDrawn:
    """A pull as it is drawn: displacement and load of each reading, in mm and kN."""

    points: tuple[tuple[float, float], ...]
    load_kn: float
    slip_mm: float
    """Demanded and allowed; 0 where the standard by which it was made says nothing."""


@dataclass(frozen=True)
class TestLine:
    """One line of the list: tests that are due, what a failed one opened, or one that was made."""

    verdict: str
    title: str
    detail: str
    heading_id: str
    began: Mapping[str, Any] | None = None
    """What a test begins with that is made for it; None: nothing is due."""
    known: BoltTestKnown | None = None
    opened: Opened | None = None
    place: str = ""
    """Where and when it was made, and of what."""
    drawn: PullDrawn | None = None
    """The readings of a pull."""
    result: ResultWords = NO_RESULT
    follows: str = ""
    """What it opened, in sentences."""

    @property
    def engineer_untold(self) -> bool:
        """Whether the engineer is to be told of it, and nobody has stated that somebody did."""
        return self.opened is not None and (
            "tell the engineer" in self.opened.then and not self.opened.told
        )


@dataclass(frozen=True)
class BegunTest:
    """A test that was begun on this tablet and neither kept nor discarded."""

    work: BoltTestWork
    where: str
    what: str


@dataclass(frozen=True)
class TestsPage:
    """Everything that the list shows."""

    due: tuple[TestLine, ...]
    made: tuple[TestLine, ...]
    together: tuple[TestLine, ...]
    """What was made put together, like with like."""
    begun: tuple[BegunTest, ...]
    waiting: int
    """How many tests are due by now."""
    failed: int
    """How many failed ones left something open."""


def tests_page(site: Site, heading_id: str) -> TestsPage:
    """Look at the tests of every heading, or of one."""
    now = site.now()
    known = (
        (heading_tests(site, heading_id, now),) if heading_id else bolt_tests_by_heading(site, now)
    )
    made = [it for one in known for it in one.tests]
    newest = sorted(made, key=lambda it: (it.test.tested_at, it.id), reverse=True)
    opened = {it.failed.id: it for one in known for it in one.opened}
    due = [it for one in known for it in one.due if it.is_due(now)]
    return TestsPage(
        due=tuple(_in_order([line for one in known for line in _due_lines(site, one)])),
        made=tuple(made_line(site, it, opened.get(it.id)) for it in newest),
        together=tuple(_together(it) for it in together(site, heading_id or None)),
        begun=tuple(_begun(site, it) for it in begun_bolt_tests(site)),
        waiting=sum(it.tests for it in due),
        failed=sum(it.is_open for it in opened.values()),
    )


def _together(one: Together) -> TestLine:
    told = tuple(together_lines(one))
    return TestLine(
        verdict="",
        title=together_title(one),
        detail="; ".join(told[:2]),
        heading_id="",
        follows=" ".join(map(sentence, told)),
    )


def _in_order(lines: list[TestLine]) -> list[TestLine]:
    """Put first what a test left open, failed ones ahead, then what is due, then what will be."""
    first = [str(Verdict.REWORK), str(Verdict.MEASURE_AGAIN), str(Verdict.ACCEPT)]
    order = [*first, str(Verdict.NOT_LOOKED_AT), ""]
    return sorted(lines, key=lambda it: order.index(it.verdict))


def _due_lines(site: Site, known: HeadingTests) -> Iterator[TestLine]:
    now, zone, units = site.now(), ZoneInfo(site.settings.zone), site.settings.units
    name = short(known.heading)
    by_id = {it.id: it for it in known.tests}
    for opened in known.opened:
        if opened.is_open:
            yield made_line(site, by_id[opened.failed.id], opened)
    for due in known.due:
        yield TestLine(
            verdict=str(Verdict.NOT_LOOKED_AT) if due.is_due(now) else "",
            title=f"{name}{BETWEEN}{due_title(due, now, zone)}",
            detail=due_why(due, units),
            heading_id=known.heading_id,
            began={"kind": due.kind, "why": due.why, "bolt_type": due.bolt_type},
        )


def made_line(site: Site, known: BoltTestKnown, opened: Opened | None) -> TestLine:
    """Put one test that was made into words, with what it opened."""
    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    where = chainage_words(known.test.chainage_m, units)
    outcome, at = _(known.result.outcome), when(known.test.tested_at, zone)
    told = tuple(opened_words(opened)) if opened else ()
    waits = tuple(waiting_lines(known, partial(name_of, site)))
    by_now = tuple(by_now_lines(*found)) if (found := by_standard_now(site, known.judged)) else ()
    still_open = "; ".join(_still_open(known, told)) if opened and opened.is_open else ""
    return TestLine(
        verdict=str(known.result.verdict),
        title=f"{short(known.heading)}, {where}{BETWEEN}{kind_words(known.test)}: {outcome}",
        detail=still_open or f"{at}: {known.result.because}{_put_right_words(known)}",
        heading_id=known.heading_id,
        known=known,
        opened=opened,
        began=_following(known, opened),
        place=". ".join((f"{place_words(known.test, units)}, {at}", *of_words(known.test, zone))),
        drawn=_drawn(site, known.test) if known.test.pulled else None,
        result=result_words(known.result),
        follows=" ".join(map(sentence, (*waits, *told, *by_now, *_corrected(site, known)))),
    )


def _drawn(site: Site, test: BoltTest) -> PullDrawn:
    standard = standard_of(site, test)
    rule = pull_rule(standard, test) if standard is not None else None
    return PullDrawn(
        tuple((float(it.displacement_mm), float(it.load_kn)) for it in test.pulled),
        float(rule.proof_kn) if rule else 0.0,
        float(rule.slip_at_most_mm) if rule else 0.0,
    )


def another_like(known: BoltTestKnown, *, same_row: bool) -> Mapping[str, Any]:
    """Give what the next test begins with, made with the same rig: in the same row, or elsewhere.

    Which bolt it is, on which part of the drive, and what is read are asked.
    """
    alike = {"kind", "why", "after", "bolt_type", "rig", "rig_checked_at"}
    if same_row:
        alike |= {"chainage_m", "round", "batch", "crew", "installed_at"}
    began = known.test.model_dump(mode="json", include=alike, exclude_none=True)
    row, _slash, number = (known.test.bolt or "").partition("/")
    return began | ({BOLT_ROW: int(row)} if same_row and number and row.isdecimal() else {})


def _still_open(known: BoltTestKnown, told: tuple[str, ...]) -> tuple[str, ...]:
    """Give what stands on the line: where a correction waits, that and the next step alone."""
    if known.waits is None:
        return told
    return (_("a correction waits for an engineer"), *told[:1])


def _put_right_words(known: BoltTestKnown) -> str:
    return _("; put right") if known.test.corrected_because else ""


def _corrected(site: Site, known: BoltTestKnown) -> Iterator[str]:
    if known.test.corrected_because:
        earlier = before(site, known.id, known.heading_id)
        yield from corrected_lines(known, earlier, partial(name_of, site))
        doubted = still_doubted(site, known, [it.test for it in earlier])
        if doubted is not None:
            yield _("batch {batch} stays in doubt: an engineer decides").format(batch=doubted)


def _following(known: BoltTestKnown, opened: Opened | None) -> Mapping[str, Any] | None:
    """Give what a test begins with that follows a failed one."""
    if opened is None or not opened.tests:
        return None
    said = {"kind": opened.kind, "why": "follows a failed test", "after": known.id}
    return said | {"bolt_type": known.test.bolt_type}


def gone_begun(site: Site, known: BoltTestKnown) -> DamageWork:
    """Go on with the damage that a failed bolt is, or begin it: touched twice it is one."""
    began = _gone(known)
    begun = (it for it in begun_damages(site) if it.about.began == began)
    return next(begun, None) or begin_damage_at(site, known.heading_id, began)


def _gone(known: BoltTestKnown) -> dict[str, Any]:
    """Give what is known of that damage: what it is, and where."""
    test = known.test
    said = test.model_dump(mode="json", include={"chainage_m", "s_m", "zone"}, exclude_none=True)
    note = _("failed test {test}").format(test=called(known.id))
    return {**said, "kind": _kind_of(test), "note": note}


def _kind_of(test: BoltTest) -> DamageKind:
    if test.kind == "shotcrete cores":
        return "shotcrete weak"
    if test.kind == "torque":
        return "bolt loose"
    return "bolt broken" if test.broke in ("bar", "thread") else "bolt pulled"


def _begun(site: Site, work: BoltTestWork) -> BegunTest:
    where = short(heading(site, work.about.heading_id).body.name)
    kind = work.said.get("kind")
    what = _(KINDS[kind]) if kind else _("bolt test")
    if work.about.corrects is not None:
        what = _("{what}, put right").format(what=what)
    return BegunTest(work, where, what)
