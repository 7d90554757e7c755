"""Tests of support as they were stated: load by load, or the torque that was read."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Final

from fieldapp.work.demo.history.advancing import TrueRound
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.places import S_M
from fieldapp.work.demo.history.pulling import (
    ZONES,
    TrueTest,
    bolt_type_of,
    fails,
    proof_of,
)
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.demo.history.truth import RESINS
from fieldapp.work.demo.people import TECHNICIAN
from schemas.bodies.bolt_test import BoltTest, PullReading
from schemas.standard import Standard

RIG_CHECKED_EVERY: Final = 180
INSTALLED_AFTER: Final = 0.2
"""Days after the firing."""
STEPS: Final = (0.25, 0.5, 0.75, 1.0)
STEP_S, HOLD_MORE_S = 25, 10
MM_FOR_A_KN, MM_FOR_A_KN_SPREAD = 0.036, 0.006
"""How far the head moves for each kN: bolt and rig stretch, each bolt's own way."""
SLIPS_MM, SLIPS_MM_SPREAD, SLIPS_TO = 14.0, 2.0, 0.6
"""How far the head comes once the anchor slips, and what share it then holds."""
BREAKS_KN: Final = 149.0
"""Where the bar gives, however well it is anchored."""


@dataclass(frozen=True)
class ToldTest:
    """One test as the technician stated it."""

    it: TrueTest
    standard: Standard

    def happening(self) -> Happening:
        """Give it."""
        return Happening(self.it.day, self._tell)

    def _tell(self, teller: Teller) -> None:
        at = teller.at(self.it.day)
        entry = teller.pen.write(
            "bolt_test", self._body(teller, at), teller.hands[TECHNICIAN].id, at
        )
        teller.ids[self.it.name] = entry.id

    def _body(self, teller: Teller, at: datetime) -> BoltTest:
        it = self.it
        place, is_put_in = teller.places[it.heading], it.kind == "destructive pull"
        rig_day = it.day // RIG_CHECKED_EVERY * RIG_CHECKED_EVERY
        body = BoltTest(
            heading=place.known.id,
            kind=it.kind,
            tested_at=at,
            why=it.why,
            chainage_m=it.at_m,
            s_m=S_M[it.zone],
            zone=it.zone,
            bolt_type=bolt_type_of(it.one),
            bolt=None if is_put_in else f"{it.row + 1}/{2 + ZONES.index(it.zone)}",
            round=teller.ids[f"{it.heading} {it.one.number}"],
            installed_at=teller.at(it.one.day + INSTALLED_AFTER),
            batch=it.one.batches[0] if it.kind == "torque" else _holds_by(it.one),
            crew=it.one.crew.name,
            part_of_support=not is_put_in,
            rig="wrench 2" if it.kind == "torque" else "rig 1",
            rig_checked_at=teller.at(rig_day),
            after=teller.ids[it.after] if it.after else None,
            standard=place.standard.entry.revision,
        )
        return body.model_copy(update=self._read(teller.draws))

    def _read(self, draws: Draws) -> dict[str, object]:
        if self.it.kind == "torque":
            return {"torque_nm": to_step(self.it.holds, "5")}
        if self.it.kind == "destructive pull":
            breaks_kn = min(self.it.holds, BREAKS_KN)
            broke = "bar" if breaks_kn == BREAKS_KN else "anchor slipped"
            return {"pulled": self._pulled(draws, breaks_kn, slips=broke != "bar"), "broke": broke}
        if fails(self.it, self.standard):
            slipped = self._pulled(draws, self.it.holds, slips=True)
            return {"pulled": slipped, "broke": "anchor slipped"}
        rule = proof_of(self.standard, bolt_type_of(self.it.one))
        pulled = self._pulled(draws, float(rule.proof_kn), slips=False)
        hold_s = rule.hold_min * 60 + HOLD_MORE_S
        held = pulled[-1].model_copy(update={"after_s": Decimal(STEP_S * len(pulled) + hold_s)})
        return {"pulled": (*pulled, held), "held_min": rule.hold_min, "broke": "nothing"}

    def _pulled(self, draws: Draws, to_kn: float, *, slips: bool) -> tuple[PullReading, ...]:
        """Give the readings of a pull, step by step; where the anchor slips, it lets go."""
        a_kn = draws.around(MM_FOR_A_KN, MM_FOR_A_KN_SPREAD, self.it.name, "stretch")
        readings = [_reading(to_kn * it, to_kn * it * a_kn, nth) for nth, it in enumerate(STEPS)]
        if slips:
            came = draws.around(SLIPS_MM, SLIPS_MM_SPREAD, self.it.name, "came")
            readings.append(_reading(to_kn * SLIPS_TO, came, len(STEPS)))
        return tuple(readings)


def _holds_by(one: TrueRound) -> str:
    """Give the batch that a pull tests: of the resin, where there is any."""
    return next((it.label for it in RESINS if it.label in one.batches), one.batches[0])


def _reading(load_kn: float, moved_mm: float, nth: int) -> PullReading:
    return PullReading(
        load_kn=to_step(load_kn, "0.1"),
        displacement_mm=to_step(moved_mm, "0.1"),
        after_s=Decimal(STEP_S * nth),
    )
