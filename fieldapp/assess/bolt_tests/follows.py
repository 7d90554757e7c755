"""What a failed test opens: more tests, a bolt beside it, a batch in doubt, the engineer."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from fieldapp.assess.bolt_tests.put_in import PutIn
from fieldapp.assess.bolt_tests.result import Result
from schemas.bodies.bolt_test import BoltTest, BoltTestKind
from schemas.bolt_test_rules import Follows
from schemas.numbers import rounded

_NEAR_M: Final = Decimal("0.1")

Replaced = Literal["not needed", "to be recorded as damage", "on the rehab list", "replaced"]
"""How far failed support is from being made good: a bolt from having another one beside it."""

BatchStands = Literal[
    "not asked", "nobody said which", "not entered", "not in doubt", "in doubt", "decided"
]
"""What became of the batch that the standard puts in doubt."""


@dataclass(frozen=True)
class JudgedTest:
    """A test, and what it comes to."""

    id: str
    test: BoltTest
    result: Result


@dataclass(frozen=True)
class Opened:
    """What one test opened, and what of it is done."""

    failed: JudgedTest
    which: str
    """Which bolts are tested next: "its 2 neighbours", "row 3"; empty: none."""
    demanded: int
    """How many tests follow."""
    done: int
    kind: BoltTestKind
    """Of the tests that follow."""
    then: tuple[Follows, ...]
    replaced: Replaced
    batch: BatchStands
    clause: str
    told: str = ""
    """Which engineer was told of it, and how; empty: nobody has stated it."""

    @property
    def tests(self) -> int:
        """How many tests are still to be made."""
        return max(0, self.demanded - self.done)

    @property
    def is_open(self) -> bool:
        """Whether anything of it is still to be done."""
        on_the_way = self.replaced in ("to be recorded as damage", "on the rehab list")
        untold = self.failed.test.tell_engineer and not self.told
        return self.tests > 0 or on_the_way or untold


def counts_as_gone(one: JudgedTest) -> bool:
    """Tell whether a bolt of the support no longer counts after its test.

    Parameters
    ----------
    one : JudgedTest
        Any test. [-]

    Returns
    -------
    bool
        True for one that failed, and for one that was pulled until it gave: it is replaced by
        another beside it, never used again. False for cores, and for a bolt put in for the
        test. [-]

    Source
    ------
    ISRM 1974, part 1: tests to failure are not made on bolts that are part of the support; that
    a failed bolt is replaced beside is common practice, no source.
    """
    test = one.test
    if test.kind == "shotcrete cores" or not test.part_of_support:
        return False
    return test.kind == "destructive pull" or one.result.failed


def is_failed_support(one: JudgedTest) -> bool:
    """Tell whether a test shows that something of the support does not do its work.

    Parameters
    ----------
    one : JudgedTest
        Any test. [-]

    Returns
    -------
    bool
        True for a bolt of the support that is gone, and for cores of it that failed. What was
        put in for the test, pulled until it gave, says something of its kind and is no part of
        the support. [-]

    Source
    ------
    Common practice, no source.
    """
    failed_cores = one.test.kind == "shotcrete cores" and one.result.failed
    return counts_as_gone(one) or (failed_cores and one.test.part_of_support)


def opened_by(
    failed: JudgedTest,
    tests: Sequence[JudgedTest],
    rounds: Sequence[PutIn],
    replaced: Replaced,
    batch: BatchStands,
) -> Opened:
    """Give what a test opens by the standard, and how much of it is done.

    Parameters
    ----------
    failed : JudgedTest
        One that failed, or after which the bolt is gone. [-]
    tests : sequence of JudgedTest
        All of the heading: those that name this one count. [-]
    rounds : sequence of PutIn
        Accepted rounds of the heading: of them its row and round are counted. [m]
    replaced : Replaced
        How far the bolt is from having another beside it, or the shotcrete from its repair. [-]
    batch : BatchStands
        How its batch stands. [-]

    Returns
    -------
    Opened
        Neighbours lie in the row, the row in the round: the widest of them counts, all. [-]

    Source
    ------
    Common practice, no source: which tests follow is the mine's rule.
    """
    rule = failed.result.then
    then = rule.then if rule is not None else ()
    which, demanded = _tests_after(failed, rounds)
    after = [it for it in tests if it.test.after == failed.id and it.result.judged]
    kind = failed.test.kind
    return Opened(
        failed=failed,
        which=which,
        demanded=demanded,
        done=_bolts(after, failed.test),
        kind="proof pull" if kind == "destructive pull" else kind,
        then=then,
        replaced=replaced if is_failed_support(failed) else "not needed",
        batch=batch if "batch in doubt" in then else "not asked",
        clause=rule.because if rule is not None else failed.result.clause,
    )


def known_as(test: BoltTest) -> tuple[object, ...] | None:
    """Say what tells a tested bolt from every other.

    Parameters
    ----------
    test : BoltTest
        As it was stated. [m]

    Returns
    -------
    tuple or None
        Alike for one bolt alone: its round, row and number, or its place to the decimetre. None
        for cores, and where nobody said which bolt of its place it was. [m]

    Source
    ------
    Common practice, no source: how near is one place.
    """
    if test.kind == "shotcrete cores" or (test.bolt is None and test.s_m is None):
        return None
    if test.bolt is not None and test.round is not None:
        return test.round, test.bolt
    across = None if test.s_m is None else rounded(test.s_m, _NEAR_M)
    return test.heading, rounded(test.chainage_m, _NEAR_M), test.zone, test.bolt, across


def _bolts(tests: Sequence[JudgedTest], failed: BoltTest) -> int:
    """Count the bolts that were tested, each once, and the failed one again not at all."""
    names = [known_as(it.test) for it in tests]
    return names.count(None) + len({it for it in names if it} - {known_as(failed)})


def round_of(test: BoltTest, rounds: Sequence[PutIn]) -> PutIn | None:
    """Find the accepted round that a tested bolt belongs to.

    Parameters
    ----------
    test : BoltTest
        It may name its round; if not, it has a place. [m]
    rounds : sequence of PutIn
        Of its heading. [m]

    Returns
    -------
    PutIn or None
        None where it lies in no accepted round. [m]

    Source
    ------
    Definition.
    """
    if test.round is not None:
        return next((it for it in rounds if it.round_id == test.round), None)
    return next((it for it in rounds if it.holds(test.chainage_m)), None)


def _tests_after(failed: JudgedTest, rounds: Sequence[PutIn]) -> tuple[str, int]:
    rule = failed.result.then
    if rule is None:
        return "", 0
    of, test = round_of(failed.test, rounds), failed.test
    if test.kind == "shotcrete cores":
        more = rule.neighbours if {"neighbours", "row", "round"} & set(rule.then) else 0
        return ("more sets of cores near it", more) if more else ("", 0)
    itself = 1 if test.part_of_support else 0
    if "round" in rule.then and of is not None:
        every = of.bolts.get(test.bolt_type or "", 0)
        return f"every bolt of round {of.number}", max(0, every - itself)
    if "row" in rule.then and of is not None:
        return "every bolt of its row", max(0, of.per_row - itself)
    if {"neighbours", "row", "round"} & set(rule.then):
        return f"the {rule.neighbours} nearest bolts", rule.neighbours
    return "", 0
