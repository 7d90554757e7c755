"""What the tests of one kind, bolt type and ground tell together: like is compared with like.

Looks at suspects, and tests that follow a failed one, were not drawn: they are counted beside.
A proof test stops at its load, so that only pulls to the end tell what the weakest bolts carry.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from statistics import mean, stdev
from typing import Final

from fieldapp.assess.bolt_tests.follows import JudgedTest, round_of
from fieldapp.assess.bolt_tests.one_bolt import once_a_day
from fieldapp.assess.bolt_tests.put_in import PutIn
from fieldapp.assess.statistics.characteristic import (
    Characteristic,
    NothingHeld,
    TooFewTests,
    by_en_1990,
    by_iso_16269_6,
)
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.proportion import clopper_pearson
from schemas.bodies.bolt_test import BoltTestKind, Why
from schemas.numbers import STEP_KN, STEP_MPA, STEP_NM, STEP_SHARE, rounded

NOT_DRAWN: Final[tuple[Why, ...]] = ("suspected", "follows a failed test")
GROUND_NOT_KNOWN: Final = "ground not known"
CONFIDENCE: Final = Decimal("0.95")
UNITS: Final[dict[BoltTestKind, tuple[str, Decimal]]] = {
    "proof pull": ("kN", STEP_KN),
    "destructive pull": ("kN", STEP_KN),
    "torque": ("N·m", STEP_NM),
    "shotcrete cores": ("MPa", STEP_MPA),
}
_STEP_PERCENT: Final = Decimal("0.1")


@dataclass(frozen=True)
class Spread:
    """How what was read is spread, in the unit of its kind."""

    mean: Decimal
    sd: Decimal | None
    """Standard deviation; None of one test."""
    cv_percent: Decimal | None
    least: Decimal


@dataclass(frozen=True)
class Together:
    """Tests of one kind, bolt type and ground."""

    kind: BoltTestKind
    bolt_type: str | None
    ground: str
    tests: int
    passed: int
    share: Interval | None
    """Within what the share that would pass lies, exact, at 95 %; None: nothing was drawn."""
    spread: Spread | None
    """None of proof pulls: they stop at the load that is demanded, whatever the bolt carries."""
    characteristic: Characteristic | None
    """By EN 1990, of pulls to the end; None: of others, or of too few."""
    at_confidence: Characteristic | None
    """By ISO 16269-6, the load that 95 % exceed with 95 % confidence; None as above."""
    beside: int
    """Looks at suspects and tests that followed a failed one."""
    beside_failed: int

    @property
    def unit(self) -> str:
        """Of what was read."""
        return UNITS[self.kind][0]

    @property
    def passed_share(self) -> Decimal:
        """How many of those drawn passed, from 0 to 1."""
        return rounded(Decimal(self.passed) / max(1, self.tests), STEP_SHARE)


def summary(tests: Sequence[tuple[JudgedTest, Sequence[PutIn]]]) -> tuple[Together, ...]:
    """Put together what can be compared.

    Parameters
    ----------
    tests : sequence of (JudgedTest, sequence of PutIn)
        Each with the accepted rounds of its heading, whose ground counts. [any]

    Returns
    -------
    tuple of Together
        By kind, bolt type and ground; what can't be judged is in none. [kN, N·m, MPa, share]

    Source
    ------
    Share: Clopper & Pearson (1934). Characteristic value: EN 1990:2002, annex D, D7.2, normal,
    variation not known; ISO 16269-6,
    one-sided, beside it. At least five tests for each condition: ISRM 1974, part 1.
    """
    groups: dict[tuple[BoltTestKind, str | None, str], list[JudgedTest]] = defaultdict(list)
    for one, rounds in tests:
        if one.result.judged:
            of = round_of(one.test, rounds)
            ground = of.ground if of is not None and of.ground is not None else GROUND_NOT_KNOWN
            groups[one.test.kind, one.test.bolt_type, ground].append(one)
    order = sorted(groups, key=lambda it: (list(UNITS).index(it[0]), it[1] or "", it[2]))
    return tuple(_together(*it, groups[it]) for it in order)


def _together(
    kind: BoltTestKind, bolt_type: str | None, ground: str, tests: Sequence[JudgedTest]
) -> Together:
    drawn = once_a_day([it for it in tests if it.test.why not in NOT_DRAWN])
    beside = once_a_day([it for it in tests if it.test.why in NOT_DRAWN])
    passed = sum(not it.result.failed for it in drawn)
    read = [it.result.value for it in drawn if it.result.value is not None]
    ends = read if kind == "destructive pull" else []
    return Together(
        kind=kind,
        bolt_type=bolt_type,
        ground=ground,
        tests=len(drawn),
        passed=passed,
        share=clopper_pearson(passed, len(drawn), CONFIDENCE) if drawn else None,
        spread=_spread(read, UNITS[kind][1]) if read and kind != "proof pull" else None,
        characteristic=_made(by_en_1990(ends, "normal")),
        at_confidence=_made(by_iso_16269_6(ends, "normal", CONFIDENCE)),
        beside=len(beside),
        beside_failed=sum(it.result.failed for it in beside),
    )


def _spread(read: Sequence[Decimal], step: Decimal) -> Spread:
    middle = mean(read)
    sd = stdev(read) if len(read) > 1 else None
    cv = None if sd is None or not middle else rounded(100 * sd / middle, _STEP_PERCENT)
    sd_said = None if sd is None else rounded(sd, step)
    return Spread(rounded(middle, step), sd_said, cv, rounded(min(read), step))


def _made(found: Characteristic | TooFewTests | NothingHeld) -> Characteristic | None:
    return found if isinstance(found, Characteristic) else None
