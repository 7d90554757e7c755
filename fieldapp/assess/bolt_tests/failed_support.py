"""Support that failed a test and that nobody has dealt with: what whoever enters has to know.

It closes nothing by itself; it stands beside the reasons until its bolt, or its shotcrete, is
recorded as damage, which has a severity, a priority and a repair that somebody else verifies.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from fieldapp.assess.bolt_tests.follows import JudgedTest, is_failed_support
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from schemas.bolt_test_rules import AfterFailure, Follows
from schemas.numbers import SAID_M, rounded, text

BOLT_GONE: Final = ("bolt broken", "bolt pulled", "bolt loose")
SHOTCRETE_WEAK: Final = ("shotcrete weak", "shotcrete drummy", "shotcrete cracked", "other")
SAME_BOLT_M: Final = Decimal("0.3")
"""Damage to a bolt so near a failed one, in its zone, is that bolt."""
SAME_SHOTCRETE_M: Final = Decimal(1)
"""Damage to shotcrete so near failed cores, in their zone, is that shotcrete."""
_CORED: Final[tuple[Follows, ...]] = ("neighbours", "row", "round")
_FOLLOWS: Final[dict[Follows, str]] = {
    "neighbours": "test the nearest bolts",
    "row": "test every bolt of its row",
    "round": "test every bolt of its round",
    "batch in doubt": "its batch is in doubt",
    "tell the engineer": "tell the engineer",
}


@dataclass(frozen=True)
class FailedTest:
    """A test that support failed, or that took a bolt of it away, and what is open of it."""

    test_id: str
    what: str
    """"failed proof pull"; "bolt pulled to failure"."""
    place: str
    """"590.4 m, back"."""
    because: str
    then: str
    """What is to be done: "record its bolt as damage; tell the engineer"."""

    @property
    def title(self) -> str:
        """Name it with its place: "failed proof pull at 590.4 m, back"."""
        return f"{self.what} at {self.place}"

    @property
    def words(self) -> str:
        """Say all of it, for whoever hears it and sees no list."""
        return f"{self.title}: {self.because}; {self.then}"


def is_damage_of(damage: Damage, test: BoltTest) -> bool:
    """Tell whether an observation of damage is of the very support that was tested.

    Parameters
    ----------
    damage : Damage
        Seen in the same heading. [m]
    test : BoltTest
        That failed. [m]

    Returns
    -------
    bool
        True for the same kind of support, in its zone, near it, seen since the test. [-]

    Source
    ------
    Common practice, no source: how near is near.
    """
    cores = test.kind == "shotcrete cores"
    kinds, near_m = (SHOTCRETE_WEAK, SAME_SHOTCRETE_M) if cores else (BOLT_GONE, SAME_BOLT_M)
    end_m = damage.chainage_m if damage.to_m is None else damage.to_m
    low, high = sorted((damage.chainage_m, end_m))
    return (
        damage.kind in kinds
        and damage.zone == test.zone
        and low - near_m <= test.chainage_m <= high + near_m
        and damage.seen_at >= test.tested_at
    )


def passed_after(failed: JudgedTest, tests: Iterable[JudgedTest]) -> bool:
    """Tell whether cores that follow failed ones passed: the same shotcrete, pressed again.

    Parameters
    ----------
    failed : JudgedTest
        Cores, or a bolt, which no other bolt speaks for. [-]
    tests : iterable of JudgedTest
        Of the heading. [-]

    Returns
    -------
    bool
        Whether a set that names the failed one passed. [-]

    Source
    ------
    Common practice, no source.
    """
    if failed.test.kind != "shotcrete cores":
        return False
    return any(it.test.after == failed.id and it.result.outcome == "passed" for it in tests)


def failed_support(
    tests: Sequence[JudgedTest],
    damages: Sequence[Damage],
    told: Mapping[str, str] = MappingProxyType({}),
) -> tuple[FailedTest, ...]:
    """Give the failed support of a heading that nobody has dealt with.

    Parameters
    ----------
    tests : sequence of JudgedTest
        Every test of it that may show such a thing. [any]
    damages : sequence of Damage
        Everything that was seen of its damage, repaired since or not. [m]
    told : mapping of str to str
        Which engineer was told of a test, and how, by the id of the test. [-]

    Returns
    -------
    tuple of FailedTest
        From the portal inbye. [m]

    Source
    ------
    Common practice, no source.
    """
    failed = sorted(filter(is_failed_support, tests), key=lambda it: (it.test.chainage_m, it.id))
    then = ((it, tuple(_then(it, tests, damages, told))) for it in failed)
    return tuple(_failed(it, said) for it, said in then if said)


def _failed(one: JudgedTest, then: Sequence[str]) -> FailedTest:
    test = one.test
    said = f"failed {test.kind}" if one.result.failed else "bolt pulled to failure"
    place = f"{text(rounded(test.chainage_m, SAID_M))} m, {test.zone}"
    return FailedTest(one.id, said, place, one.result.because, "; ".join(then))


def _then(
    one: JudgedTest,
    tests: Sequence[JudgedTest],
    damages: Sequence[Damage],
    told: Mapping[str, str],
) -> Iterator[str]:
    """Say what is to be done; of support that was dealt with only whom nobody has told yet."""
    if passed_after(one, tests) or any(is_damage_of(it, one.test) for it in damages):
        if one.test.tell_engineer and one.id not in told:
            yield _FOLLOWS["tell the engineer"]
        return
    cores = one.test.kind == "shotcrete cores"
    yield "record its shotcrete as damage" if cores else "record its bolt as damage"
    rule: AfterFailure | None = one.result.then
    for it in rule.then if rule is not None else ():
        is_told = it == "tell the engineer" and one.id in told
        said = "press more sets near it" if cores and it in _CORED else _FOLLOWS[it]
        yield f"{told[one.id]}" if is_told else said
