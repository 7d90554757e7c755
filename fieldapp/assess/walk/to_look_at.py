"""Which bolts and which bays of a drive are looked at in a month, stratum by stratum.

A stratum is what is alike: one support class in one zone. What is on record is counted; where
nothing is, it is what the class's pattern puts there, and is said to be estimated.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from fieldapp.assess.pattern import ZoneBorders, zone_of
from fieldapp.assess.sampling import Plan, Stratum, drawn, looks_needed, single_plan
from schemas.numbers import STEP_M, rounded
from schemas.walk_rules import LookedAtShare


@dataclass(frozen=True)
class BoltThere:
    """A bolt of a row: its number from the left, and where it is from the crown, in metres."""

    number: int
    s_m: float


@dataclass(frozen=True)
class RowThere:
    """One row of bolts that is on record, or that the pattern puts there."""

    key: str
    """Names it alike on every tablet."""
    words: str
    """"row 2 of round 64"."""
    chainage_m: Decimal
    support_class: str
    bolts: tuple[BoltThere, ...]
    borders: ZoneBorders
    estimated: bool


@dataclass(frozen=True)
class Spot:
    """A bolt or a bay that may be drawn, and where it is, in metres."""

    key: str
    words: str
    chainage_m: Decimal
    s_m: Decimal
    estimated: bool


@dataclass(frozen=True)
class ToLookAt:
    """What is looked at in one stratum, so that "none found" means something."""

    stratum: str
    """"D1, back"."""
    there: int
    estimated: int
    """How many of those are where the pattern puts them: nothing is on record of them."""
    spots: tuple[Spot, ...]
    """Those drawn, from the origin inbye."""
    rule: LookedAtShare
    plan: Plan | None
    """Of ISO 2859-1 beside it, where the standard names a limit."""

    @property
    def words(self) -> str:
        """As it is said: what to look at, and what it means if none of them is bad."""
        shares = (self.rule.bad_share_at_most, self.rule.confidence)
        bad, sure = (f"{(it * 100).normalize() + 0:f}" for it in shares)
        looks = f"look at {len(self.spots)} of {self.there} {self.rule.of}"
        means = f"none found would mean at most {bad} % bad, {sure} % confidence"
        return "; ".join((looks, means, *self._estimated(), *self._beside()))

    def _estimated(self) -> Iterator[str]:
        if self.estimated == self.there:
            yield "all of them by the class's pattern, nothing is on record"
        elif self.estimated:
            yield f"{self.estimated} of them by the class's pattern, nothing is on record"

    def _beside(self) -> Iterator[str]:
        if self.plan is not None and self.rule.aql_percent is not None:
            aql, looks = self.rule.aql_percent, self.plan.looks
            yield f"ISO 2859-1, level II, AQL {aql} %: {looks}, at most {self.plan.lets_pass} bad"


def to_look_at(
    rows: Iterable[RowThere], rules: Iterable[LookedAtShare], seed: str
) -> tuple[ToLookAt, ...]:
    """Draw the bolts and bays of a drive that are looked at.

    Parameters
    ----------
    rows : iterable of RowThere
        All rows of its supported ground, in any order. [m]
    rules : iterable of LookedAtShare
        What the standard says of bolts, and of bays. [-]
    seed : str
        Mine, heading and month: from it anybody draws the same ones. [-]

    Returns
    -------
    tuple of ToLookAt
        One a rule and a stratum, in the order of rules and of names; each with so many drawn as
        the hypergeometric distribution asks for. [m]

    Source
    ------
    See `looks_needed` and `single_plan`; that bolts of one class and zone are alike is common
    practice, no source.
    """
    in_order = sorted(rows, key=lambda it: (it.chainage_m, it.key))
    return tuple(one for rule in rules for one in _by_rule(in_order, rule, seed))


def _by_rule(rows: Sequence[RowThere], rule: LookedAtShare, seed: str) -> Iterator[ToLookAt]:
    strata: dict[str, dict[str, Spot]] = defaultdict(dict)
    for stratum, spot in _bolts(rows) if rule.of == "bolts" else _bays(rows):
        strata[stratum][spot.key] = spot
    needed = [
        Stratum(f"{rule.of}, {name}", tuple(spots), _looks(len(spots), rule))
        for name, spots in sorted(strata.items())
    ]
    chosen = drawn(needed, seed)
    for one, (name, spots) in zip(needed, sorted(strata.items()), strict=True):
        yield ToLookAt(
            stratum=name,
            there=len(spots),
            estimated=sum(it.estimated for it in spots.values()),
            spots=tuple(spots[key] for key in chosen[one.name]),
            rule=rule,
            plan=_plan(len(spots), rule),
        )


def _looks(there: int, rule: LookedAtShare) -> int:
    return looks_needed(there, rule.bad_share_at_most, rule.confidence)


def _plan(there: int, rule: LookedAtShare) -> Plan | None:
    return (
        None if rule.aql_percent is None else single_plan(there, "II", Decimal(rule.aql_percent))
    )


def _bolts(rows: Iterable[RowThere]) -> Iterator[tuple[str, Spot]]:
    for row in rows:
        for bolt in row.bolts:
            spot = Spot(
                f"{row.key} {bolt.number}",
                f"{row.words}, bolt {bolt.number}",
                rounded(row.chainage_m, STEP_M),
                rounded(bolt.s_m, STEP_M),
                row.estimated,
            )
            yield _stratum(row, bolt.s_m), spot


def _bays(rows: Sequence[RowThere]) -> Iterator[tuple[str, Spot]]:
    """Yield the areas between the bolts of a row and the next row inbye."""
    for row, inbye in pairwise(rows):
        for left, right in pairwise(row.bolts):
            s_m = (left.s_m + right.s_m) / 2
            spot = Spot(
                f"{row.key} {left.number}-{right.number}",
                f"inbye of {row.words}, between bolts {left.number} and {right.number}",
                rounded((row.chainage_m + inbye.chainage_m) / 2, STEP_M),
                rounded(s_m, STEP_M),
                row.estimated,
            )
            yield _stratum(row, s_m), spot


def _stratum(row: RowThere, s_m: float) -> str:
    return f"{row.support_class}, {zone_of(s_m, row.borders)}"
