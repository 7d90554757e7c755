"""Which bolts and which bays of a drive are looked at in a month, stratum by stratum.

A stratum is what is alike: one support class in one zone. What is on record is counted; where
nothing is, it is what the class's pattern puts there, and is said to be estimated.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
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
    found = _bolts(rows) if rule.of == "bolts" else _bays(rows)
    strata: dict[str, dict[str, _Candidate]] = defaultdict(dict)
    for it in found:
        strata[it.stratum][it.key] = it
    for name, members in sorted(strata.items()):
        there = len(members)
        looks = looks_needed(there, rule.bad_share_at_most, rule.confidence)
        stratum = Stratum(f"{rule.of}, {name}", tuple(members), looks)
        (chosen,) = drawn([stratum], seed).values()
        yield ToLookAt(
            stratum=name,
            there=there,
            estimated=sum(it.row.estimated for it in members.values()),
            spots=tuple(members[key].spot for key in chosen),
            rule=rule,
            plan=_plan(there, rule),
        )


def _plan(there: int, rule: LookedAtShare) -> Plan | None:
    limit = rule.aql_percent
    return None if limit is None else single_plan(there, "II", Decimal(limit))


@dataclass(frozen=True)
class _Candidate:
    """A bolt of a row, or the bay between two of them and the next row; put into words late.

    A drive has tens of thousands, and a few are drawn.
    """

    row: RowThere
    left: BoltThere
    right: BoltThere | None = None
    inbye_m: Decimal | None = None

    @property
    def key(self) -> str:
        upto = f"-{self.right.number}" if self.right else ""
        return f"{self.row.key} {self.left.number}{upto}"

    @property
    def s_m(self) -> float:
        return (self.left.s_m + self.right.s_m) / 2 if self.right else self.left.s_m

    @property
    def stratum(self) -> str:
        return f"{self.row.support_class}, {_zone(self.s_m, self.row.borders)}"

    @property
    def spot(self) -> Spot:
        at_m = self.row.chainage_m
        words = f"{self.row.words}, bolt {self.left.number}"
        if self.right is not None and self.inbye_m is not None:
            at_m = (at_m + self.inbye_m) / 2
            bolts = f"{self.left.number} and {self.right.number}"
            words = f"inbye of {self.row.words}, between bolts {bolts}"
        place = rounded(at_m, STEP_M), rounded(self.s_m, STEP_M)
        return Spot(self.key, words, *place, self.row.estimated)


def _bolts(rows: Iterable[RowThere]) -> Iterator[_Candidate]:
    return (_Candidate(row, bolt) for row in rows for bolt in row.bolts)


def _bays(rows: Sequence[RowThere]) -> Iterator[_Candidate]:
    """Yield the areas between the bolts of a row and the next row inbye."""
    for row, inbye in pairwise(rows):
        for left, right in pairwise(row.bolts):
            yield _Candidate(row, left, right, inbye.chainage_m)


@lru_cache(maxsize=1024)
def _zone(s_m: float, borders: ZoneBorders) -> str:
    """Give the zone of a place across the drive; rows of one pattern have the same places."""
    return str(zone_of(s_m, borders))
