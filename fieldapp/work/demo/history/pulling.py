"""Which bolts were tested, and what each of them truly held: that follows from its batch alone."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil
from typing import Final, Literal

from fieldapp.work.demo.history.advancing import TrueRound
from fieldapp.work.demo.history.draws import Draws
from fieldapp.work.demo.history.places import S_M
from fieldapp.work.demo.history.truth import (
    BAD_RESIN,
    ENDS,
    LONG_BAR_KN,
    LONG_BAR_SPREAD_KN,
    MONTH_DAYS,
    POINT_ANCHOR_KN,
    POINT_ANCHOR_SPREAD_KN,
    RESINS,
    TORQUE_LOST_SHARE,
    TORQUE_NM,
    TORQUE_SPREAD_NM,
    YEAR_DAYS,
)
from schemas.bodies.bolt_test import Why
from schemas.bodies.damage import DamageZone
from schemas.bolt_test_rules import BoltTestRule
from schemas.standard import Standard

Kind = Literal["proof pull", "destructive pull", "torque"]
Bolt = tuple[TrueRound, int, DamageZone]
"""Its round, its row, counted from 0, and the part of the drive."""

ZONES: Final = tuple(S_M)
BY_SHARE: Final[Why] = "by the standard's share"
FOLLOWS: Final[Why] = "follows a failed test"
NEW_BATCH: Final[Why] = "change of batch"
NEW_CREW: Final[Why] = "new crew"
PULLED_EVERY, TORQUED_EVERY, DESTROYED_EVERY = MONTH_DAYS, 90.0, 120.0
FIRST_DAY, HOUR = 27.0, 0.42
MINUTES_A_PULL, MINUTES_A_HEADING, MINUTES_LATE, MINUTES_A_DAY = 7, 50, 8, 24 * 60
CURED_DAYS: Final = 2.0
BOLTS_IN_ROW: Final = {"RB24": 9.0, "PB24": 6.5, "LB50": 9.0}
TORQUED_AT_ONCE, SUSPECTED_PULLS, NEIGHBOURS = 14, 16, 2
SUSPECTED_AFTER, SUSPECTED_EVERY = 2.0, 0.25
"""Days after the first bolt of the bad batch slipped."""


@dataclass(frozen=True)
class TrueTest:
    """One test, and what the bolt holds: kN, or N·m where it is turned."""

    name: str
    heading: str
    kind: Kind
    day: float
    one: TrueRound
    why: Why
    holds: float
    row: int
    """Counted from 0."""
    zone: DamageZone
    after: str | None = None
    """Name of the failed test that it follows."""

    @property
    def at_m(self) -> Decimal:
        """Chainage of its row."""
        return self.one.last_row_before_m + sum(self.one.ahead_m[: self.row + 1], Decimal(0))


def tests_of(
    rounds: Mapping[str, Sequence[TrueRound]], standard: Standard, draws: Draws
) -> tuple[TrueTest, ...]:
    """Give every test of the past, in the order in which they were made."""
    made = [
        _in_turn(it, nth, draws)
        for nth, (name, advanced) in enumerate(rounds.items())
        if advanced
        for it in _Testing(name, advanced, standard, draws).made()
    ]
    made += _suspected(made, rounds, standard, draws)
    follow = [it for one in made for it in _after(one, rounds[one.heading], standard, draws)]
    return tuple(sorted((*made, *follow), key=lambda it: (it.day, it.name)))


def _in_turn(test: TrueTest, nth: int, draws: Draws) -> TrueTest:
    """Give it at a time of its own: one technician goes from heading to heading."""
    outing = (test.heading, test.kind, test.why, int(test.day), "late")
    minutes = MINUTES_A_HEADING * nth + draws.between(0, MINUTES_LATE, *outing)
    return replace(test, day=test.day + minutes / MINUTES_A_DAY)


def fails(test: TrueTest, standard: Standard) -> bool:
    """Tell whether a bolt slips below the load of a proof test."""
    return test.kind == "proof pull" and test.holds < proof_kn(standard, bolt_type_of(test.one))


def proof_kn(standard: Standard, bolt_type: str) -> float:
    """Give the load of a proof test."""
    return float(proof_of(standard, bolt_type).proof_kn)


def proof_of(standard: Standard, bolt_type: str) -> BoltTestRule:
    """Give the rule of a proof test."""
    rules = (it for it in standard.bolt_tests if it.kind == "proof")
    return next(it for it in rules if it.bolt_type == bolt_type)


def bolt_type_of(one: TrueRound) -> str:
    """Give the type of a round's bolts, as its batch is labelled."""
    return one.batches[0].rpartition("-")[0]


def first_slip(tests: Sequence[TrueTest], standard: Standard) -> TrueTest | None:
    """Give the test at which a bolt of the bad batch slipped first."""
    slipped = (it for it in tests if BAD_RESIN.label in it.one.batches and fails(it, standard))
    return min(slipped, key=lambda it: it.day, default=None)


@dataclass(frozen=True)
class _Testing:
    """The tests of one heading's bolts that the standard asks for."""

    name: str
    rounds: Sequence[TrueRound]
    standard: Standard
    draws: Draws

    def made(self) -> Iterator[TrueTest]:
        """Yield them."""
        yield from self._proofs()
        yield from self._after_changes()
        bolt_type = bolt_type_of(self.rounds[0])
        if bolt_type == "RB24":
            yield from self._every(DESTROYED_EVERY, "destructive pull", 1)
        elif bolt_type == "PB24":
            yield from self._every(TORQUED_EVERY, "torque", TORQUED_AT_ONCE)

    def _every(self, every: float, kind: Kind, at_once: int) -> Iterator[TrueTest]:
        for day in _days(every):
            for nth in range(at_once if self._there(day) else 0):
                yield self._drawn(kind, day + nth / 500, BY_SHARE, f"{kind} {int(day)} {nth}")

    def _there(self, day: float) -> list[TrueRound]:
        return [it for it in self.rounds if it.day + CURED_DAYS < day]

    def _proofs(self) -> Iterator[TrueTest]:
        bolt_type = bolt_type_of(self.rounds[0])
        rule = next(it for it in self.standard.bolt_tests if it.bolt_type == bolt_type)
        done = 0
        for day in _days(PULLED_EVERY):
            bolts = sum(len(it.ahead_m) for it in self._there(day)) * BOLTS_IN_ROW[bolt_type]
            due = max(rule.at_least, ceil(bolts / rule.one_in)) if bolts else 0
            for nth in range(done, due):
                at = day + (nth - done) / 50
                yield self._drawn("proof pull", at, BY_SHARE, f"proof {nth}", newest=8)
            done = max(done, due)

    def _after_changes(self) -> Iterator[TrueTest]:
        """Yield a pull after each new batch, and after each new crew."""
        batches, crews = set(self.rounds[0].batches), {self.rounds[0].crew.name}
        for one in self.rounds:
            day = int(one.day + CURED_DAYS + 1) + HOUR
            if not batches.issuperset(one.batches):
                name = f"{self.name}, batch {one.number}"
                yield _test(self.draws, "proof pull", name, day, (self.name, one, NEW_BATCH))
            if one.crew.name not in crews:
                name = f"{self.name}, {one.crew.name}"
                yield _test(self.draws, "proof pull", name, day + 0.1, (self.name, one, NEW_CREW))
            batches.update(one.batches)
            crews.add(one.crew.name)

    def _drawn(self, kind: Kind, day: float, why: Why, name: str, newest: int = 1000) -> TrueTest:
        full = f"{self.name}, {name}"
        one = self.draws.one_of(self._there(day)[-newest:], full, "round")
        return _test(self.draws, kind, full, day, (self.name, one, why))


def _test(
    draws: Draws,
    kind: Kind,
    name: str,
    day: float,
    about: tuple[str, TrueRound, Why],
    after: str | None = None,
) -> TrueTest:
    heading, one, why = about
    return TrueTest(
        name=name,
        heading=heading,
        kind=kind,
        day=day,
        one=one,
        why=why,
        holds=_holds(draws, kind, name, (one, day)),
        row=int(draws.share(name, "row") * len(one.ahead_m)),
        zone=draws.one_of(ZONES, name, "zone"),
        after=after,
    )


def _holds(draws: Draws, kind: Kind, name: str, when: tuple[TrueRound, float]) -> float:
    """Give what a bolt holds: by its resin, grout or point anchor, or as its torque."""
    one, day = when
    if kind == "torque":
        left = 1 - TORQUE_LOST_SHARE * (day - one.day) / YEAR_DAYS
        return left * draws.around(TORQUE_NM, TORQUE_SPREAD_NM, name)
    resin = next((it for it in RESINS if it.label in one.batches), None)
    if bolt_type_of(one) == "LB50":
        return draws.around(LONG_BAR_KN, LONG_BAR_SPREAD_KN, name)
    if resin is None:
        return draws.around(POINT_ANCHOR_KN, POINT_ANCHOR_SPREAD_KN, name)
    return draws.around(resin.strength_kn, resin.deviation_kn, name)


def _suspected(
    made: Sequence[TrueTest],
    rounds: Mapping[str, Sequence[TrueRound]],
    standard: Standard,
    draws: Draws,
) -> Iterator[TrueTest]:
    """Yield the pulls all over the rounds of a batch of which one bolt has slipped."""
    slipped = first_slip(made, standard)
    if slipped is None:
        return
    begins = slipped.day + SUSPECTED_AFTER
    of_it = [
        (name, one)
        for name, advanced in rounds.items()
        for one in advanced
        if BAD_RESIN.label in one.batches and one.day + CURED_DAYS < begins
    ]
    for nth in range(SUSPECTED_PULLS):
        name = f"suspected {nth}"
        heading, one = draws.one_of(of_it, name)
        day = begins + SUSPECTED_EVERY * nth
        yield _test(draws, "proof pull", name, day, (heading, one, "suspected"))


@dataclass
class _Following:
    """The pulls of a failed bolt's neighbours, and of theirs, until all of them hold."""

    standard: Standard
    draws: Draws
    left: list[Bolt]
    """Bolts that were not pulled yet, the nearest first: none is pulled twice."""
    day: float
    """When the last one was pulled."""

    def made(self, failed: TrueTest) -> Iterator[TrueTest]:
        """Yield them."""
        for nth in range(NEIGHBOURS if fails(failed, self.standard) else 0):
            name = f"{failed.name} {nth}"
            self.day += MINUTES_A_PULL / MINUTES_A_DAY
            round_of, row, zone = self.left.pop(0)
            about = (failed.heading, round_of, FOLLOWS)
            drawn = _test(self.draws, "proof pull", name, self.day, about, failed.name)
            one = replace(drawn, row=row, zone=zone)
            yield one
            yield from self.made(one)


def _after(
    failed: TrueTest, rounds: Sequence[TrueRound], standard: Standard, draws: Draws
) -> Iterator[TrueTest]:
    yield from _Following(standard, draws, _beside(failed, rounds), failed.day).made(failed)


def _beside(failed: TrueTest, rounds: Sequence[TrueRound]) -> list[Bolt]:
    """Give the other bolts of a heading that were cured, the nearest first, of its round ahead."""

    def away(bolt: Bolt) -> tuple[int, int, int]:
        one, row, zone = bolt
        rows, across = abs(row - failed.row), abs(ZONES.index(zone) - ZONES.index(failed.zone))
        return abs(one.number - failed.one.number), rows + across, rows

    cured = (it for it in rounds if it.day + CURED_DAYS < failed.day)
    bolts = [(it, row, zone) for it in cured for row in range(len(it.ahead_m)) for zone in ZONES]
    itself = (failed.one, failed.row, failed.zone)
    return sorted((it for it in bolts if it != itself), key=away)


def _days(every: float) -> Iterator[float]:
    day = FIRST_DAY
    while day < ENDS:
        yield int(day) + HOUR
        day += every
