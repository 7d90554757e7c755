"""Tests of support: recording one, what is known of them, and what is due in a heading."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from fieldapp.assess.bolt_tests import (
    Due,
    JudgedTest,
    Opened,
    PutIn,
    Result,
    Together,
    counts_as_gone,
    due_tests,
    opened_by,
    put_in,
    result_of,
    standing,
    summary,
)
from fieldapp.work.authority import counting
from fieldapp.work.batches import batches, doubt_entry, in_doubt
from fieldapp.work.bolt_test_record import judged, line_of, standard_of, told_of
from fieldapp.work.bolt_tests.failed_bolts import batch_stands, replaced
from fieldapp.work.bolt_tests.refusals import ask, refuse
from fieldapp.work.called import is_called
from fieldapp.work.damage.stating import damages
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known, current, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import of_revision, revision_in_force, standard_at
from fieldapp.work.writing import written
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.heading import Heading
from schemas.entry import Entry
from schemas.standard import SupportClass
from schemas.trouble import BadInput


@dataclass(eq=False)
class NoSuchTest(BadInput):
    """No test is known by that id."""

    name: str

    happened = "No test of support here is known as {name}."
    kept = "Nothing was changed."
    do_next = "Look for its id with: lastrow bolt-test list."


@dataclass(frozen=True)
class TestRevision:
    """One revision of a test that doesn't stand, and what it comes to."""

    entry: Entry
    test: BoltTest
    result: Result


@dataclass(frozen=True)
class BoltTestKnown:
    """One test with what it comes to."""

    heading_id: str
    heading: str
    entry: Entry
    test: BoltTest
    result: Result
    waits: TestRevision | None = None
    """A correction that would let a failure go, until an engineer agrees."""

    @property
    def id(self) -> str:
        """Of the test."""
        return self.entry.id

    @property
    def judged(self) -> JudgedTest:
        """As the standard's rules take it."""
        return JudgedTest(self.id, self.test, self.result)


@dataclass(frozen=True)
class HeadingTests:
    """The tests of one heading: made, due, and what failed ones opened."""

    heading_id: str
    heading: str
    rounds: tuple[PutIn, ...]
    """The accepted ones."""
    tests: tuple[BoltTestKnown, ...]
    """The newest first."""
    due: tuple[Due, ...]
    opened: tuple[Opened, ...]
    """By every test that failed, or that took a bolt of the support away; done ones too."""


@dataclass(frozen=True)
class Recorded:
    """What was kept of a test."""

    known: BoltTestKnown
    doubted: str | None
    """Label of the batch that it put in doubt."""


def record_bolt_test(
    site: Site, test: BoltTest, session: Session, *, all_the_same: bool = False
) -> Recorded:
    """State a test; where it fails, a batch that the standard puts in doubt is in doubt with it.

    Raises
    ------
    NoSuchHeading
        There is no such heading.
    BoltTestRefused
        It can't have been so: nothing read, before the bolt was put in, beyond the face, …
    KeepItSo
        It is odd, and nobody has said that it is so `all_the_same`.
    """
    entries, recorded = bolt_test_entries(site, test, session, all_the_same=all_the_same)
    site.store.ledger.add(entries)
    return recorded


def bolt_test_entries(
    site: Site,
    test: BoltTest,
    session: Session,
    *,
    thing_id: str | None = None,
    corrects: Sequence[Known[BoltTest]] = (),
    all_the_same: bool = False,
) -> tuple[list[Entry], Recorded]:
    """Write a test, and the doubt of its batch, without keeping them yet; refused alike.

    One that `corrects` revisions of a test is another revision of it.
    """
    session = still_enrolled(site, session)
    place = heading(site, test.heading)
    revision = test.standard or revision_in_force(site)
    body = test.model_copy(update={"heading": place.id, "standard": revision})
    standard = standard_of(site, body)
    refuse(site, body, standard)
    follows = result_of(body, standard).then
    tell = follows is not None and "tell the engineer" in follows.then
    body = body.model_copy(update={"tell_engineer": tell})
    if not all_the_same:
        ask(site, body, standard, corrects=corrects[0].id if corrects else None)
    entry = written(
        site,
        "bolt_test",
        body,
        author=session.person_id,
        thing_id=corrects[0].id if corrects else thing_id,
        parents=parents_over(site, corrects) if corrects else (),
    )
    known = BoltTestKnown(place.id, place.body.name, entry, body, result_of(body, standard))
    doubt = None if _was_doubted(site, known, corrects) else _doubt(site, known, session)
    return [it for it in (entry, doubt) if it], Recorded(known, body.batch if doubt else None)


def preview(site: Sight, test: BoltTest) -> Result:
    """Say what a test comes to that is about to be kept."""
    return result_of(test, standard_of(site, test))


def bolt_tests(site: Sight, heading_id: str | None = None) -> tuple[BoltTestKnown, ...]:
    """Give every test, or a heading's, the newest first."""
    places = [heading(site, heading_id)] if heading_id else headings(site)
    found = [it for place in places for it in _of_heading(site, place)]
    return tuple(sorted(found, key=lambda it: (it.test.tested_at, it.id), reverse=True))


def _of_heading(site: Sight, place: Known[Heading]) -> tuple[BoltTestKnown, ...]:
    """Give a heading's tests as they were judged; each is judged once."""

    def known() -> tuple[BoltTestKnown, ...]:
        heads = current(site, "bolt_test", BoltTest, heading=place.id)
        return tuple(_standing(site, place, it) for it in heads)

    return counting(site).remembered(("bolt tests", place.id), known)


def _standing(site: Sight, place: Known[Heading], head: Known[BoltTest]) -> BoltTestKnown:
    """Give what stands of a test, and its newest revision where that waits for an engineer."""
    line = line_of(site, head)
    results = [judged(site, it.id, it.body) for it in line]
    stands = standing(results)
    it, newest = line[stands], results[-1]
    waits = None if it is head else TestRevision(head.entry, newest.test, newest.result)
    return BoltTestKnown(
        place.id, place.body.name, it.entry, it.body, results[stands].result, waits
    )


def bolt_test(site: Sight, name: str) -> BoltTestKnown:
    """Find a test by its id or its short id.

    Raises
    ------
    NoSuchTest
        Nothing, or more than one test, is known so.
    """
    fits = {it.id: it for it in bolt_tests(site) if is_called(it.id, name)}
    if len(fits) != 1:
        raise NoSuchTest(name)
    return next(iter(fits.values()))


def bolt_tests_by_heading(site: Sight, at: datetime) -> tuple[HeadingTests, ...]:
    """Give the tests of every heading, in the order of the headings."""
    return tuple(heading_tests(site, it.id, at) for it in headings(site))


def heading_tests(site: Sight, heading_id: str, at: datetime) -> HeadingTests:
    """Give the tests of one heading: made, due by the standard in force, and what follows."""
    place = heading(site, heading_id)
    made = bolt_tests(site, place.id)
    accepted = accepted_rounds(site, place.id)
    judged = [it.judged for it in made]
    standard = standard_at(site, at)
    local = at.astimezone(ZoneInfo(site.settings.zone))
    due = due_tests(accepted, judged, standard, local) if standard else ()
    gone = damages(site, at, place.id) if any(map(_opens, judged)) else ()
    told = told_of(site, place.id)
    opened = (
        opened_by(it, judged, accepted, replaced(it, judged, gone), batch_stands(site, it))
        for it in judged
        if _opens(it)
    )
    said = tuple(replace(it, told=told.get(it.failed.id, "")) for it in opened)
    return HeadingTests(place.id, place.body.name, accepted, made, due, said)


def together(site: Site, heading_id: str | None = None) -> tuple[Together, ...]:
    """Put the tests of every heading together, or of one, like with like."""
    places = [heading(site, heading_id)] if heading_id else headings(site)
    return summary(
        [
            (it.judged, accepted_rounds(site, place.id))
            for place in places
            for it in bolt_tests(site, place.id)
        ]
    )


def _opens(one: JudgedTest) -> bool:
    return one.result.failed or counts_as_gone(one)


def accepted_rounds(site: Sight, heading_id: str) -> tuple[PutIn, ...]:
    """Give the accepted rounds of a heading, from the joint inbye, by what tests need of them."""
    gather = partial(_accepted, site, heading_id)
    return counting(site).remembered(("put in", heading_id), lambda: tuple(gather()))


def _accepted(site: Sight, heading_id: str) -> Iterator[PutIn]:
    facts = heading_record(site, heading_id).rounds
    accepted = {it.round_id for it in facts if it.decision == "accepted" and not it.in_dispute}
    for known in rounds(site, heading_id):
        demanded = _demanded(site, known.body.standard, known.body.support_class)
        if known.id in accepted and demanded is not None:
            yield put_in(known.id, known.body, demanded)


def _demanded(site: Sight, revision: str, support_class: str) -> SupportClass | None:
    known = of_revision(site, revision)
    return known.body.support_class(support_class) if known else None


def _doubt(site: Site, known: BoltTestKnown, session: Session) -> Entry | None:
    """Put the batch of a failed bolt in doubt, where the standard says so and it was entered."""
    rule, label = known.result.then, known.test.batch
    if rule is None or "batch in doubt" not in rule.then or label is None:
        return None
    entered = {it.label for it in batches(site)}
    if label not in entered - {it.label for it in in_doubt(site)}:
        return None
    reason = f"a bolt of it failed a {known.test.kind} test: {known.result.because}"
    return doubt_entry(site, label, session, reason=reason, after=known.entry)


def _was_doubted(site: Sight, known: BoltTestKnown, corrects: Sequence[Known[BoltTest]]) -> bool:
    """Whether the failure that is put right was of the same batch: that was decided on then."""
    failed = (it.body for it in corrects if _result(site, it.body).failed)
    return known.test.batch in {it.batch for it in failed}


def _result(site: Sight, test: BoltTest) -> Result:
    return result_of(test, standard_of(site, test))
