"""Tests of support in words: the same on every screen, list and paper."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, tzinfo
from decimal import Decimal
from typing import Final

from assets.translate import _
from fieldapp.assess.bolt_tests import Due, Opened, Result, Together
from fieldapp.assess.bolt_tests.summary import Spread
from fieldapp.assess.pull_curve import stiffness_kn_per_mm
from fieldapp.assess.words import beside_crown
from fieldapp.report.words.findings import counted, day, sentence, when
from fieldapp.report.words.lengths import Units, chainage_words, in_units, span_words
from fieldapp.work.bolt_tests.recording import BoltTestKnown, TestRevision
from schemas.bodies.bolt_test import BoltTest, PullReading
from schemas.numbers import rounded, text

KINDS: Final = {
    "proof pull": "proof pull",
    "destructive pull": "destructive pull",
    "torque": "torque read again",
    "shotcrete cores": "shotcrete cores",
}
REPLACE: Final = {
    "to be recorded as damage": "record its bolt as damage: another one goes beside it",
    "on the rehab list": "another bolt beside it: on the rehab list",
    "replaced": "another bolt stands beside it",
}
MAKE_GOOD: Final = {
    "to be recorded as damage": "record its shotcrete as damage",
    "on the rehab list": "its shotcrete: on the rehab list",
    "replaced": "its shotcrete was repaired",
}
"""What becomes of shotcrete whose cores failed."""

BATCHES: Final = {
    "nobody said which": "its batch is in doubt: nobody said which it is",
    "not entered": "batch {batch} was never entered: enter it, and put it in doubt",
    "not in doubt": "put batch {batch} in doubt",
    "in doubt": "batch {batch} in doubt: an engineer decides",
    "decided": "batch {batch} was in doubt: an engineer has decided",
}


def kind_words(test: BoltTest) -> str:
    """Say which test it was: "proof pull, RB24"."""
    return ", ".join(filter(None, (_(KINDS[test.kind]), test.bolt_type)))


def place_words(test: BoltTest, units: Units) -> str:
    """Say where it was made: "590.4 m, back, 0.6 m left of the crown, bolt 2/5"."""
    across = None if test.s_m is None else in_units(beside_crown(float(test.s_m)), units)
    bolt = _("bolt {bolt}").format(bolt=test.bolt) if test.bolt else ""
    where = chainage_words(test.chainage_m, units)
    return ", ".join(filter(None, (where, _(test.zone), across, bolt)))


def due_title(due: Due, as_at: datetime, zone: tzinfo) -> str:
    """Say what is to be made: "proof pull, RB24: 3 of 3 still due", and from when, if later."""
    left = _("{left} of {of} still due").format(left=due.tests, of=due.of)
    named = ", ".join(filter(None, (_(KINDS[due.kind]), due.bolt_type)))
    what = f"{named}: {left}"
    if due.is_due(as_at):
        return what
    return _("{what}, from {day}").format(what=what, day=day(due.since, zone))


def due_why(due: Due, units: Units) -> str:
    """Say why, and where: "by the standard's share: 1 in 100 of 243 bolts, …"."""
    where = span_words(due.from_m, due.to_m, units, " – ")
    return f"{_(due.why)}: {due.words} ({due.clause}); {where}"


def opened_words(opened: Opened) -> Iterator[str]:
    """Yield what a test opened and what of it is done, a sentence each, the next step first."""
    cores = opened.failed.test.kind == "shotcrete cores"
    become = MAKE_GOOD if cores else REPLACE
    if opened.replaced in become:
        yield _(become[opened.replaced])
    if opened.demanded:
        made = f"{opened.done} of {opened.demanded}"
        told = _("test {which}: {made} made").format(which=opened.which, made=made)
        yield f"{told} ({opened.clause})"
    if opened.batch in BATCHES:
        yield _(BATCHES[opened.batch]).format(batch=opened.failed.test.batch)
    if "tell the engineer" in opened.then:
        yield _(opened.told) if opened.told else _("tell the engineer")


def together_title(one: Together) -> str:
    """Say what was put together: "destructive pull, RB24, as expected: 7 of 8 passed"."""
    what = ", ".join(filter(None, (_(KINDS[one.kind]), one.bolt_type, _(one.ground))))
    if not one.tests:
        return what
    passed = _("{passed} of {tests} passed").format(passed=one.passed, tests=one.tests)
    return f"{what}: {passed}"


def together_lines(one: Together) -> Iterator[str]:
    """Yield what the tests tell together: share, spread, the characteristic value, suspects."""
    if one.share is not None:
        low, high = (_percent(it) for it in (one.share.low, one.share.high))
        told = _("{share} % pass, within {low} to {high} % (95 %, exact)")
        yield told.format(share=_percent(one.passed_share), low=low, high=high)
    if one.spread is not None:
        yield _spread_words(one.spread, one.unit)
    if one.characteristic is not None:
        value = f"{text(one.characteristic.value_kn)} kN"
        told = _("characteristic value {value} ({rule})")
        yield told.format(value=value, rule=one.characteristic.rule)
        if one.at_confidence is not None:
            least = f"{text(one.at_confidence.value_kn)} kN"
            told = _("95 % carry {value} or more, with 95 % confidence ({rule})")
            yield told.format(value=least, rule=one.at_confidence.rule)
    elif one.kind == "destructive pull":
        yield _("too few for a characteristic value")
    if one.beside:
        told = _("beside these {n} of suspects or that followed, {failed} failed")
        yield told.format(n=one.beside, failed=one.beside_failed)


def _spread_words(spread: Spread, unit: str) -> str:
    middle = f"{text(spread.mean)} {unit}"
    least = f"{text(spread.least)} {unit}"
    if spread.sd is None:
        return _("mean {mean}, least {least}").format(mean=middle, least=least)
    told = _("mean {mean}, standard deviation {sd}, variation {cv} %, least {least}")
    return told.format(mean=middle, sd=text(spread.sd), cv=spread.cv_percent, least=least)


def _percent(share: Decimal) -> str:
    return text(rounded(100 * share, Decimal("0.1")))


def known_lines(known: BoltTestKnown, units: Units, zone: tzinfo) -> Iterator[str]:
    """Yield everything that was stated of a test, a line each."""
    test = known.test
    yield f"{known.heading}, {place_words(test, units)}"
    yield f"{kind_words(test)}, {when(test.tested_at, zone)}, {test.why}"
    yield from (reading_words(it, zone) for it in test.pulled)
    cores = ", ".join(map(text, test.cores_mpa))
    stiffness = stiffness_kn_per_mm(test.pulled)
    told_at = f", {_touched(test.hold_told_at, zone)}" if test.hold_told_at else ""
    alone = test.kind != "shotcrete cores" and not test.part_of_support
    said = (
        ("held", None if test.held_min is None else f"{test.held_min} min{told_at}"),
        ("what gave", test.broke),
        ("stiffness", None if stiffness is None else f"{text(stiffness)} kN/mm"),
        ("torque", None if test.torque_nm is None else f"{text(test.torque_nm)} N·m"),
        (counted(len(test.cores_mpa), "core"), f"{cores} MPa" if cores else None),
        ("days old", None if test.age_days is None else str(test.age_days)),
        ("bolt", "put in for the test" if alone else None),
        ("put in", test.installed_at and day(test.installed_at, zone)),
        ("batch", test.batch),
        ("crew", test.crew),
        ("rig or wrench", test.rig),
        ("calibrated", test.rig_checked_at and day(test.rig_checked_at, zone)),
        ("note", test.note),
    )
    yield from (f"{what}: {value}" for what, value in said if value)


def of_words(test: BoltTest, zone: tzinfo) -> Iterator[str]:
    """Yield what is known of the bolt, then of what it was tested with, a sentence each."""
    put_in = test.installed_at and day(test.installed_at, zone)
    checked = test.rig_checked_at and day(test.rig_checked_at, zone)
    said = (
        (
            _("put in {day}").format(day=put_in) if put_in else "",
            test.crew or "",
            _("batch {batch}").format(batch=test.batch) if test.batch else "",
        ),
        (test.rig or "", _("calibrated {day}").format(day=checked) if checked else ""),
    )
    for sentences in said:
        told = ", ".join(filter(None, sentences))
        if told:
            yield sentence(told).removesuffix(".")


def by_now_lines(standard: str, result: Result) -> Iterator[str]:
    """Yield what the standard in force now says of a test that was made by another."""
    told = _("by {standard}, in force now: {outcome}: {because}; demanded: {limit}")
    yield told.format(
        standard=standard,
        outcome=_(result.outcome),
        because=result.because,
        limit=result.limit or _("nothing"),
    )


def waiting_lines(known: BoltTestKnown, named: Callable[[str], str]) -> Iterator[str]:
    """Yield what a correction says that waits for an engineer, and that the failure stands."""
    if known.waits is not None:
        yield _(
            "a correction by {name} waits, “{reason}”, by which it {outcome}: {because}"
        ).format(
            name=named(known.waits.entry.author),
            reason=known.waits.test.corrected_because,
            outcome=_(known.waits.result.outcome),
            because=known.waits.result.because,
        )
        yield _("a geotechnical engineer must agree with it; until then this stands")


def corrected_lines(
    known: BoltTestKnown, before: Sequence[TestRevision], named: Callable[[str], str]
) -> Iterator[str]:
    """Yield why and by whom a test was put right, and what it came to before, back in time."""
    yield _("put right: {reason} ({name})").format(
        reason=known.test.corrected_because, name=named(known.entry.author)
    )
    for it in reversed(before):
        yield _("before that {outcome}: {because} ({name})").format(
            outcome=_(it.result.outcome), because=it.result.because, name=named(it.entry.author)
        )


def reading_words(reading: PullReading, zone: tzinfo) -> str:
    """Write one reading of a pull: "85 kN, 4.5 mm after 60 s, touched 05:31:20"."""
    after = f" after {text(reading.after_s)} s" if reading.after_s is not None else ""
    touched = f", {_touched(reading.read_at, zone)}" if reading.read_at else ""
    return f"{text(reading.load_kn)} kN, {text(reading.displacement_mm)} mm{after}{touched}"


def _touched(at: datetime, zone: tzinfo) -> str:
    """Say when something was touched on the tablet, to the second."""
    return _("touched {time}").format(time=f"{at.astimezone(zone):%H:%M:%S}")
