"""Which tests are due in a heading: by the standard's share, after a change, torque read again.

Tests that follow a failed one are in `follows`. Another look at a suspect counts to no share: it
says more of the suspect and nothing of the rest. Nor does a test of support that is not of the lot
that is asked about: it says nothing of this lot's bolts.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests.due_cores import cores_due
from fieldapp.assess.bolt_tests.follows import JudgedTest, round_of
from fieldapp.assess.bolt_tests.one_bolt import once_a_day
from fieldapp.assess.bolt_tests.put_in import Change, PutIn, changes
from schemas.bodies.bolt_test import BoltTestKind, Why
from schemas.bolt_test_rules import BoltTestRule, TorqueTestRule
from schemas.standard import Standard

BY_SHARE: Final[Why] = "by the standard's share"
KINDS: Final[dict[str, BoltTestKind]] = {"proof": "proof pull", "destructive": "destructive pull"}


@dataclass(frozen=True)
class Due:
    """Tests of one kind and bolt type that are to be made in a heading."""

    kind: BoltTestKind
    bolt_type: str | None
    """None for cores."""
    why: Why
    tests: int
    """How many are still to be made."""
    of: int
    """How many are demanded."""
    words: str
    """Why so many: "1 in 100 of 243 bolts, at least 3"."""
    clause: str
    since: datetime
    """When the bolts were put in, or from when torque is read again."""
    from_m: Decimal
    to_m: Decimal
    """Where the bolts are."""

    def is_due(self, as_at: datetime) -> bool:
        """Whether it is to be made now, not later."""
        return self.since <= as_at


def due_tests(
    rounds: Sequence[PutIn], tests: Sequence[JudgedTest], standard: Standard, as_at: datetime
) -> tuple[Due, ...]:
    """Say which tests of one heading's bolts are to be made.

    Parameters
    ----------
    rounds : sequence of PutIn
        Its accepted rounds, in the order of their joints. [m]
    tests : sequence of JudgedTest
        Every test in it. [-]
    standard : Standard
        The revision in force. [any]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    tuple of Due
        Pulls in the order of the standard's rules, each rule's share before its changes; torque,
        then cores, also where they are to be read later. What can't be judged was not tested, and
        a test of other support tells nothing of what is due. [-]

    Source
    ------
    Common practice, no source: shares and intervals are the mine's. At least five tests for each
    condition: ISRM 1974, part 1.
    """
    judged = [it for it in tests if it.result.judged]
    found = [
        *_pulls(rounds, judged, standard),
        *_torques(rounds, judged, standard, as_at),
        *_cores(rounds, judged, standard, as_at),
    ]
    return tuple(it for it in found if it.tests > 0)


def _pulls(
    rounds: Sequence[PutIn], tests: Sequence[JudgedTest], standard: Standard
) -> Iterator[Due]:
    for rule in standard.bolt_tests:
        using = [it for it in rounds if it.bolts.get(rule.bolt_type)]
        of_rule = [it for it in tests if _is_of(it, KINDS[rule.kind], rule.bolt_type)]
        if using:
            yield _share(rule, using, of_rule)
            yield from _after_changes(rule, using, of_rule)


def _share(rule: BoltTestRule, using: Sequence[PutIn], tests: Sequence[JudgedTest]) -> Due:
    bolts = sum(it.bolts[rule.bolt_type] for it in using)
    demanded = min(bolts, max(rule.at_least, _part(bolts, rule.one_in)))
    return Due(
        kind=KINDS[rule.kind],
        bolt_type=rule.bolt_type,
        why=BY_SHARE,
        tests=max(0, demanded - len(_drawn(tests, using))),
        of=demanded,
        words=f"1 in {rule.one_in} of {bolts} bolts, at least {rule.at_least}",
        clause=rule.because,
        since=using[0].at,
        from_m=using[0].from_m,
        to_m=using[-1].to_m,
    )


def _after_changes(
    rule: BoltTestRule, using: Sequence[PutIn], tests: Sequence[JudgedTest]
) -> Iterator[Due]:
    for occasion in rule.also_after:
        changed = [it for it in changes(using) if it.occasion == occasion]
        ends = [*(it.first.from_m for it in changed[1:]), using[-1].to_m]
        for change, to_m in zip(changed, ends, strict=False):
            if not any(_is_after(it, change, to_m, using) for it in tests):
                yield Due(
                    kind=KINDS[rule.kind],
                    bolt_type=rule.bolt_type,
                    why=occasion,
                    tests=1,
                    of=1,
                    words=f"{change.words}, round {change.first.number}",
                    clause=rule.because,
                    since=change.first.at,
                    from_m=change.first.from_m,
                    to_m=to_m,
                )


def _is_after(one: JudgedTest, change: Change, to_m: Decimal, rounds: Sequence[PutIn]) -> bool:
    """Tell whether a test was made for a change, on what was put in from then to the next one."""
    test = one.test
    if test.why != change.occasion or test.tested_at < change.first.at:
        return False
    of = round_of(test, rounds)
    at_m = of.to_m if of is not None else test.chainage_m
    return change.first.from_m < at_m <= to_m


def _torques(
    rounds: Sequence[PutIn], tests: Sequence[JudgedTest], standard: Standard, as_at: datetime
) -> Iterator[Due]:
    for rule in standard.torque_tests:
        using = [it for it in rounds if it.bolts.get(rule.bolt_type)]
        if using:
            of_rule = [it for it in tests if _is_of(it, "torque", rule.bolt_type)]
            yield _read_again(rule, using, of_rule, as_at)


def _read_again(
    rule: TorqueTestRule, using: Sequence[PutIn], tests: Sequence[JudgedTest], as_at: datetime
) -> Due:
    """Say when a whole share is read again: so long after the last whole one."""
    bolts = sum(it.bolts[rule.bolt_type] for it in using)
    demanded, every = _part(bolts, rule.one_in), timedelta(days=rule.every_days)
    read = sorted((it.test.tested_at for it in _drawn(tests, using)), reverse=True)
    lately = sum(at + every > as_at for at in read)
    whole_at = read[demanded - 1] if len(read) >= demanded else using[0].at
    return Due(
        kind="torque",
        bolt_type=rule.bolt_type,
        why=BY_SHARE,
        tests=demanded - lately if lately < demanded else demanded,
        of=demanded,
        words=f"1 in {rule.one_in} of {bolts} bolts, every {rule.every_days} days",
        clause=rule.because,
        since=whole_at + every,
        from_m=using[0].from_m,
        to_m=using[-1].to_m,
    )


def _cores(
    rounds: Sequence[PutIn], tests: Sequence[JudgedTest], standard: Standard, as_at: datetime
) -> Iterator[Due]:
    rule = standard.cores
    if rule is None:
        return
    sprayed = [it for it in rounds if it.sprayed_at is not None]
    done = len(_drawn([it for it in tests if it.test.kind == "shotcrete cores"], sprayed))
    due = cores_due(rounds, done, rule, as_at)
    if due is not None:
        yield Due(
            kind="shotcrete cores",
            bolt_type=None,
            why=BY_SHARE,
            tests=max(0, due.of - done),
            of=due.of,
            words=due.words,
            clause=rule.because,
            since=due.since,
            from_m=due.from_m,
            to_m=due.to_m,
        )


def _drawn(tests: Sequence[JudgedTest], lot: Sequence[PutIn]) -> list[JudgedTest]:
    """Give the tests by the share that were made of a lot's own support."""
    by_share = [it for it in tests if it.test.why == BY_SHARE]
    return [it for it in once_a_day(by_share) if round_of(it.test, lot) is not None]


def _part(bolts: int, one_in: int) -> int:
    """Give one in so many, the last part-group too."""
    return -(-bolts // one_in)


def _is_of(one: JudgedTest, kind: BoltTestKind, bolt_type: str) -> bool:
    return one.test.kind == kind and one.test.bolt_type == bolt_type
