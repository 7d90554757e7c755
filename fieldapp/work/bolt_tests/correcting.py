"""Putting a test of support right: by whoever made it or an engineer, with the reason.

A correction is a new revision of the test; what was stated first is kept beside it. What the test
opens is worked out anew from what is right. One by which a failure would be gone from its bolt
waits until an engineer agrees, who states the same: until then the failure stands. A doubt of its
batch that was opened stays: an engineer decides on it, never a correction.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fieldapp.assess.bolt_tests import Result, standing
from fieldapp.work.authority import ENGINEER
from fieldapp.work.batches import in_doubt
from fieldapp.work.bolt_test_record import judged
from fieldapp.work.bolt_tests.recording import (
    BoltTestKnown,
    Recorded,
    TestRevision,
    bolt_test,
    bolt_test_entries,
    preview,
)
from fieldapp.work.known import Known, one, stated
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import NotYours
from fieldapp.work.site import Session, Sight, Site
from schemas.bodies.bolt_test import BoltTest
from schemas.entry import Entry
from schemas.trouble import BadInput

ACT = "correct a test that somebody else made"


@dataclass(eq=False)
class NothingCorrected(BadInput):
    """A correction says what was stated already, or not why."""

    reason: str

    happened = "The test was not corrected: {reason}."
    kept = "What was stated stands as it was."
    do_next = "Say what is right of it, and why it was stated otherwise."


@dataclass(frozen=True)
class Corrected:
    """What was kept of a correction, and what of the first stands all the same."""

    recorded: Recorded
    before: Result
    still_doubted: str | None
    """Label of a batch that stays in doubt although the test failed no longer."""


def may_correct(site: Site, test_id: str, session: Session | None) -> Session:
    """Give who corrects a test, as they are enrolled now.

    Raises
    ------
    NotYours
        They neither made it nor are a geotechnical engineer.
    """
    if session is None:
        raise NotYours("Whoever is not signed in", ACT, ENGINEER[0])
    session = still_enrolled(site, session)
    if session.person_id not in makers(site, test_id) and not session.has(*ENGINEER):
        raise NotYours(session.name, ACT, ENGINEER[0])
    return session


def makers(site: Sight, test_id: str) -> frozenset[str]:
    """Give who stated a test first."""
    revisions = site.store.ledger.of_thing(test_id)
    return frozenset(it.author for it in revisions if it.kind == "bolt_test" and not it.parents)


def correct_bolt_test(
    site: Site, test_id: str, corrected: BoltTest, session: Session | None, *, all_the_same: bool
) -> Corrected:
    """State what is right of a test.

    Raises
    ------
    NoSuchTest
        No test has that id.
    NotYours
        Only whoever made it or a geotechnical engineer corrects it.
    NothingCorrected
        Nothing is changed, or it is not said why.
    BoltTestRefused, KeepItSo
        As for `record_bolt_test`.
    """
    entries, done = correction_entries(
        site, test_id, corrected, session, all_the_same=all_the_same
    )
    site.store.ledger.add(entries)
    return done


def correction_entries(
    site: Site, test_id: str, corrected: BoltTest, session: Session | None, *, all_the_same: bool
) -> tuple[list[Entry], Corrected]:
    """Write a correction, and a doubt that it opens, without keeping them yet."""
    known = bolt_test(site, test_id)
    session = may_correct(site, known.id, session)
    heads = one(site, "bolt_test", BoltTest, known.id)
    agrees = known.waits is not None and session.has(*ENGINEER)
    _refuse(heads, corrected, agrees=agrees)
    entries, recorded = bolt_test_entries(
        site, corrected, session, corrects=heads, all_the_same=all_the_same
    )
    still = still_doubted(site, recorded.known, [it.body for it in heads])
    return entries, Corrected(recorded, known.result, still)


def lets_a_failure_go(site: Site, test_id: str, corrected: BoltTest) -> bool:
    """Tell whether a failure would be gone by a correction, which an engineer alone may say."""
    line = [judged(site, test_id, it) for it in (bolt_test(site, test_id).test, corrected)]
    return standing(line) == 0


def still_doubted(site: Sight, known: BoltTestKnown, earlier: Iterable[BoltTest]) -> str | None:
    """Give the label of a batch that stays in doubt although its test failed no longer."""
    if known.result.failed:
        return None
    failed = {it.batch for it in earlier if preview(site, it).failed}
    return next((it.label for it in in_doubt(site) if it.label in failed), None)


def before(site: Sight, test_id: str, heading_id: str) -> tuple[TestRevision, ...]:
    """Give the revisions of a test that were put right, the one stated first at the beginning."""
    return tuple(_before(site, test_id, heading_id))


def _before(site: Sight, test_id: str, heading_id: str) -> Iterator[TestRevision]:
    current = {it.entry.revision for it in one(site, "bolt_test", BoltTest, test_id)}
    current.add(bolt_test(site, test_id).entry.revision)
    for it in stated(site, "bolt_test", BoltTest, heading=heading_id):
        if it.id == test_id and it.entry.revision not in current:
            yield TestRevision(it.entry, it.body, preview(site, it.body))


def to_correct(known: BoltTestKnown) -> BoltTest:
    """Give what a correction begins with: what was stated last, also where it still waits."""
    return known.test if known.waits is None else known.waits.test


def _refuse(heads: tuple[Known[BoltTest], ...], corrected: BoltTest, *, agrees: bool) -> None:
    if not corrected.corrected_because:
        raise NothingCorrected("nobody said why")
    if any(it.body.heading != corrected.heading for it in heads):
        raise NothingCorrected("it was made in another heading: withdraw it there")
    same = {"corrected_because", "standard", "chained_at"}
    now = corrected.model_dump(exclude=same)
    if not agrees and len(heads) == 1 and heads[0].body.model_dump(exclude=same) == now:
        raise NothingCorrected("it says what was stated already")
