"""Sets of cores: from which round's shotcrete each was taken, and how strong it truly was."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from fieldapp.work.demo.history.advancing import TrueRound
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.places import S_M
from fieldapp.work.demo.history.pulling import BY_SHARE, HOUR
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.demo.history.truth import (
    ENDS,
    NEVER_CORED,
    SHOTCRETE_MPA,
    SHOTCRETE_SPREAD_MPA,
    WEAK_MPA,
    WEAK_ROUND,
)
from fieldapp.work.demo.people import TECHNICIAN
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import DamageZone
from schemas.bolt_test_rules import CoreRule
from schemas.standard import Standard

SPRAYED_AFTER: Final = 7.5 / 24
"""Days after the firing."""
PRESSED_AFTER: Final = 1
"""Days after the shotcrete is of age: it is drilled out and taken to the press."""
ZONES: Final[tuple[DamageZone, ...]] = ("left wall", "left shoulder", "right shoulder")
STEP_MPA: Final = "0.5"


@dataclass(frozen=True)
class TrueSet:
    """One set of cores, and the strength of each. Days after the record began, MPa."""

    heading: str
    one: TrueRound
    day: float
    zone: DamageZone
    mpa: tuple[Decimal, ...]

    @property
    def at_m(self) -> Decimal:
        """Chainage of its round's first row."""
        return self.one.last_row_before_m + self.one.ahead_m[0]

    @property
    def is_weak(self) -> bool:
        """Whether it is of the shotcrete with too much water."""
        return self.one.number == WEAK_ROUND

    def happening(self) -> Happening:
        """Give it as it is stated."""
        return Happening(self.day, self._tell)

    def _tell(self, teller: Teller) -> None:
        at = teller.at(self.day)
        place = teller.places[self.heading]
        sprayed_at = teller.at(self.one.day + SPRAYED_AFTER)
        body = BoltTest(
            heading=place.known.id,
            kind="shotcrete cores",
            tested_at=at,
            why=BY_SHARE,
            chainage_m=self.at_m,
            s_m=S_M[self.zone],
            zone=self.zone,
            round=teller.ids[f"{self.heading} {self.one.number}"],
            installed_at=sprayed_at,
            crew=self.one.crew.name,
            cores_mpa=self.mpa,
            age_days=(at - sprayed_at).days,
            standard=place.standard.entry.revision,
        )
        teller.pen.write("bolt_test", body, teller.hands[TECHNICIAN].id, at)


def sets_of(
    rounds: Mapping[str, Sequence[TrueRound]], standard: Standard, draws: Draws
) -> tuple[TrueSet, ...]:
    """Give every set that was pressed, in the order of its heading's rounds."""
    rule = standard.cores
    if rule is None:
        return ()
    return tuple(
        it for name, advanced in rounds.items() for it in _sets(name, advanced, rule, draws)
    )


def _sets(
    name: str, rounds: Sequence[TrueRound], rule: CoreRule, draws: Draws
) -> Iterator[TrueSet]:
    for one in rounds:
        day = int(one.day + SPRAYED_AFTER) + rule.age_days + PRESSED_AFTER + HOUR
        if one.sprayed and day < ENDS and one.number not in NEVER_CORED:
            about = (name, one.number, "core")
            mean = WEAK_MPA if one.number == WEAK_ROUND else SHOTCRETE_MPA
            mpa = (draws.around(mean, SHOTCRETE_SPREAD_MPA, *about, n) for n in range(rule.cores))
            yield TrueSet(
                heading=name,
                one=one,
                day=day,
                zone=draws.one_of(ZONES, *about, "zone"),
                mpa=tuple(to_step(it, STEP_MPA) for it in mpa),
            )
