"""What a test of support can't be, and what is asked before an odd one is kept."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.assess.bolt_tests import (
    DAY,
    beyond_the_thread,
    bolt_of,
    may_be_one_bolt,
    out_of_reason,
    pull_rule,
    too_soon_for_its_hold,
)
from fieldapp.assess.pull_curve import Contradiction, contradictions
from fieldapp.work.batches import batches, no_batch_of
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import current, one
from fieldapp.work.people import name_of
from fieldapp.work.site import Site
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.round import Round
from schemas.numbers import SAID_M, rounded, text
from schemas.standard import Standard
from schemas.trouble import BadInput, NotAllowed

PULLS: Final = ("proof pull", "destructive pull")
CONTRADICTED: Final[dict[Contradiction, str]] = {
    "nothing was pulled": "no load was read",
    "time runs backwards": "a reading would have been taken before the one ahead of it",
    "load was gone before the hold was over": "the load was gone before the hold was over",
}


@dataclass(eq=False)
class BoltTestRefused(BadInput):
    """A test can't be what it is said to be."""

    reason: str

    happened = "The test was not kept: {reason}."
    kept = "What was entered stands as it was."
    do_next = "Put that right, then keep it again."


@dataclass(eq=False)
class KeepItSo(NotAllowed):
    """A test is odd: a person says once more that it is so."""

    reason: str

    happened = "{reason}."
    kept = "What was entered stands as it was; the test is not kept yet."
    do_next = "Put it right, or keep it so where it is right."


def refuse(site: Site, test: BoltTest, standard: Standard | None) -> None:
    """Refuse what can't have been.

    Raises
    ------
    BoltTestRefused
        Names the first reason.
    """
    for reason in (
        *_nothing_read(test),
        *_times(site, test),
        *_place(site, test),
        *_named(site, test),
        *_codes(test, standard),
    ):
        raise BoltTestRefused(reason)


def ask(
    site: Site, test: BoltTest, standard: Standard | None, *, corrects: str | None = None
) -> None:
    """Ask about what is odd, all of it at once; one that `corrects` a test is no second one.

    Raises
    ------
    KeepItSo
        Names every reason; the test may be kept all the same.
    """
    reasons = (
        *_beyond_support(site, test),
        *_of_another_batch(site, test),
        *out_of_reason(test, standard),
        *_odd(test, standard),
        *_tested_already(site, test, corrects),
    )
    if reasons:
        told = "; ".join(reasons)
        raise KeepItSo(f"{told[0].upper()}{told[1:]}")


def _beyond_support(site: Site, test: BoltTest) -> Iterator[str]:
    """Yield that it lies past all support that was accepted, where nobody may be."""
    record = heading_record(site, test.heading)
    accepted = (it for it in record.rounds if it.decision == "accepted" and not it.in_dispute)
    last_m = max((record.place.last_row_m, *(it.last_row_m for it in accepted)))
    if test.chainage_m > last_m:
        at, last = text(test.chainage_m), text(rounded(last_m, SAID_M))
        yield f"{at} m is beyond the last accepted row at {last} m, where nobody may be"


def _of_another_batch(site: Site, test: BoltTest) -> Iterator[str]:
    entered = (it for it in batches(site) if it.label == test.batch)
    reason = next((no_batch_of(it, test.bolt_type) for it in entered), None)
    if reason is not None:
        yield reason


def _tested_already(site: Site, test: BoltTest, corrects: str | None) -> Iterator[str]:
    """Yield who tested this bolt, or one of this place, on the same day."""
    if test.kind == "shotcrete cores":
        return
    zone = ZoneInfo(site.settings.zone)
    for it in current(site, "bolt_test", BoltTest, heading=test.heading):
        apart = abs(it.body.tested_at - test.tested_at)
        if it.id != corrects and apart < DAY and may_be_one_bolt(it.body, test):
            named = test.bolt is not None and it.body.bolt == test.bolt
            what = f"bolt {test.bolt}" if named else "a bolt at this place"
            at = f"{it.body.tested_at.astimezone(zone):%H:%M}"
            told = f"{name_of(site, it.entry.author)} tested {what} at {at}"
            yield f"{told}: say its row and number where it is another, since one bolt counts once"


def _odd(test: BoltTest, standard: Standard | None) -> Iterator[str]:
    if test.kind == "destructive pull" and test.part_of_support:
        yield (
            "this bolt is part of the support: pulled to failure it counts as gone, and "
            "another is put in beside it"
        )
    bolt = bolt_of(standard, test.bolt_type) if standard else None
    too_much = beyond_the_thread(test, bolt) if bolt and test.kind in PULLS else None
    if too_much is not None:
        yield too_much
    rule = pull_rule(standard, test) if standard else None
    too_soon = too_soon_for_its_hold(test, rule) if rule else None
    if too_soon is not None:
        yield f"{too_soon}: right only where its readings were written down before"
    if test.rig_checked_at is None and test.kind != "shotcrete cores":
        yield "nobody said when the rig or wrench was last calibrated, so that it can't pass"


def _nothing_read(test: BoltTest) -> Iterator[str]:
    if test.kind in PULLS:
        yield from (CONTRADICTED[it] for it in contradictions(test.pulled, Decimal(0), None))
    if test.kind == "torque" and test.torque_nm is None:
        yield "no torque was read"
    if test.kind == "shotcrete cores" and not test.cores_mpa:
        yield "no core was pressed"


def _times(site: Site, test: BoltTest) -> Iterator[str]:
    if test.tested_at > site.now():
        yield "it would have been made later than now"
    if test.installed_at is not None and test.tested_at < test.installed_at:
        yield "the bolt would have been tested before it was put in"
    if test.rig_checked_at is not None and test.rig_checked_at > test.tested_at:
        yield "the rig would have been calibrated after the test"


def _place(site: Site, test: BoltTest) -> Iterator[str]:
    face_m = heading_record(site, test.heading).face_m
    if test.chainage_m > face_m:
        yield f"the face is at {face_m} m, outbye of it"


def _named(site: Site, test: BoltTest) -> Iterator[str]:
    """Yield why the round or the failed test that it names is none of this heading."""
    if test.round is not None:
        heads = one(site, "round", Round, test.round)
        if not any(it.body.heading == test.heading for it in heads):
            yield "no round of this heading has that number"
        elif test.tested_at < heads[-1].body.started_at:
            yield f"round {heads[-1].body.number} was begun after the test"
    if test.after is not None:
        known = current(site, "bolt_test", BoltTest, heading=test.heading)
        if test.after not in (it.id for it in known):
            yield "no test of this heading has the id that it follows"
    elif test.why == "follows a failed test":
        yield "it doesn't say which failed test it follows"


def _codes(test: BoltTest, standard: Standard | None) -> Iterator[str]:
    if test.kind == "shotcrete cores":
        return
    if test.bolt_type is None:
        yield "it doesn't say which bolt type was tested"
    elif standard is not None and bolt_of(standard, test.bolt_type) is None:
        yield f"{standard.name} has no bolt type {test.bolt_type}"
