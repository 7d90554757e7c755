"""Damage as people saw it, month after month, and its repair until somebody verified it."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from functools import partial
from typing import Final

from fieldapp.work.damage.questions import OF_ONE_BOLT
from fieldapp.work.demo.history.damaging import TrueDamage
from fieldapp.work.demo.history.draws import to_step
from fieldapp.work.demo.history.photographed import photographed
from fieldapp.work.demo.history.places import S_M
from fieldapp.work.demo.history.teller import Hand, Happening, Teller
from fieldapp.work.demo.people import BOLTER, ENGINEER, TECHNICIAN
from schemas.bodies.damage import (
    Damage,
    DamageExtent,
    ReadMetres,
    ReadMillimetres,
)
from schemas.bodies.rehab import Barricade, Rehab
from schemas.entry import Entry

PLANNED_AFTER, BEGUN_BEFORE, VERIFIED_AFTER = 0.8, 0.35, 0.3
"""Days after it was seen, before it is done, and after that."""
SHOWN: Final = {"torn mesh": "torn-mesh", "bagged mesh": "bagged-mesh", "rusted": "rusted-mesh"}
TESTED: Final = ("bolt pulled", "shotcrete weak")
"""What a test showed: a bolt that slipped, shotcrete too weak."""
DEPTH_U95_MM: Final = Decimal(10)


class Observed:
    """One damage as it is told: seen, seen again, repaired."""

    def __init__(self, it: TrueDamage) -> None:
        self.it = it
        self._id = ""
        self._seen: list[str] = []

    def happenings(self) -> Iterator[Happening]:
        """Yield what was stated of it but on walks."""
        if self.it.told_at_once:
            yield Happening(self.it.seen_day, self._tell_at_once)
        done = self.it.repaired_day
        if done is None:
            return
        planned = min(self.it.seen_day + PLANNED_AFTER, done - 2 * BEGUN_BEFORE)
        repair = _Repair(self)
        yield Happening(planned, partial(repair.plan, planned))
        yield Happening(done - BEGUN_BEFORE, partial(repair.begin, done - BEGUN_BEFORE))
        yield Happening(done, partial(repair.finish, done))
        yield Happening(done + VERIFIED_AFTER, partial(repair.verify, done + VERIFIED_AFTER))

    def see(self, teller: Teller, hand: Hand, at: datetime, day: float) -> str:
        """State what is seen of it, and give the id of the observation."""
        body = self._body(teller, at, day)
        entry = teller.pen.write("damage", body, hand.id, at)
        if not self._id:
            self._id = entry.id
            if self.it.kind in SHOWN:
                photographed(teller, SHOWN[self.it.kind], hand, at, of=entry.id)
        self._seen.append(entry.id)
        return entry.id

    def _tell_at_once(self, teller: Teller) -> None:
        at = teller.at(self.it.seen_day)
        who = TECHNICIAN if self.it.kind in TESTED else BOLTER
        self.see(teller, teller.hands[who], at, self.it.seen_day)

    @property
    def id(self) -> str:
        """Of the first observation."""
        return self._id

    @property
    def seen(self) -> tuple[str, ...]:
        """Every observation by now."""
        return tuple(self._seen)

    def _body(self, teller: Teller, at: datetime, day: float) -> Damage:
        place = teller.places[self.it.heading]
        return Damage(
            heading=place.known.id,
            seen_at=at,
            chainage_m=to_step(self.it.at_m, "0.01"),
            s_m=S_M[self.it.zone],
            zone=self.it.zone,
            kind=self.it.kind,
            extent=self._extent(day),
            severity=self.it.severity,
            exposure=place.known.body.exposure,
            cause=self.it.cause,
            age="days" if not self._id else "months",
            standard=place.standard.entry.revision,
            again=self._id or None,
        )

    def _extent(self, day: float) -> DamageExtent:
        above = ReadMetres(value_m=to_step(self.it.above_floor_m, "0.1"), how="eye")
        if not self.it.depth_mm:
            return DamageExtent(above_floor=above)
        depth_mm = to_step(self.it.depth_on(day), "5")
        depth = ReadMillimetres(value_mm=depth_mm, how="tape", u95_mm=DEPTH_U95_MM)
        return DamageExtent(above_floor=above, bag_depth=depth)


class _Repair:
    """The revisions of one repair."""

    def __init__(self, observed: Observed) -> None:
        self._of = observed
        self._last: Entry | None = None
        self._body: Rehab | None = None

    def plan(self, day: float, teller: Teller) -> None:
        it = self._of.it
        at_m = to_step(it.at_m, "0.01")
        body = Rehab(
            heading=teller.places[it.heading].known.id,
            damages=(self._of.id,),
            from_m=at_m,
            to_m=at_m,
            zones=(it.zone,),
            order_of_work=_order_of_work(it),
            state="planned",
            standard=teller.places[it.heading].standard.entry.revision,
        )
        self._state(teller, teller.hands[ENGINEER], teller.at(day), body)

    def begin(self, day: float, teller: Teller) -> None:
        hand, at = teller.hands[BOLTER], teller.at(day)
        before = self._known()
        barricade = Barricade(who=hand.session.name, where="across the drive, outbye of it")
        said = {
            "state": "in hand",
            "barricade": barricade,
            "crew": teller.draws.one_of(("crew A", "crew B", "crew C"), self._of.it.name, "crew"),
            "installers": (hand.id,),
            "started_at": at,
        }
        self._state(teller, hand, at, before.model_copy(update=said))

    def finish(self, day: float, teller: Teller) -> None:
        it, hand, at = self._of.it, teller.hands[BOLTER], teller.at(day)
        assert self._last is not None  # noqa: S101 - it was planned
        photo = photographed(teller, "mended-mesh", hand, at, of=self._last.id)
        said = {
            "state": "done",
            "outcome": "restored",
            "bolts_added": teller.draws.one_of((1, 2, 2, 3, 4), it.name, "bolts"),
            "materials": ("welded mesh", "resin bolts"),
            "lap_openings": teller.draws.one_of((3, 3, 4), it.name, "lap"),
            "after": (photo,),
            "finished_at": at,
        }
        self._state(teller, hand, at, self._known().model_copy(update=said))

    def verify(self, day: float, teller: Teller) -> None:
        at = teller.at(day)
        hand = teller.supervisor(at)
        said = {
            "state": "verified",
            "covers": self._of.seen,
            "role": "shift supervisor",
            "barrier_down": True,
            "public_key": hand.key.public_key,
        }
        self._state(teller, hand, at, self._known().model_copy(update=said), signed=True)

    def _known(self) -> Rehab:
        assert self._body is not None  # noqa: S101 - it was planned
        return self._body

    def _state(
        self, teller: Teller, hand: Hand, at: datetime, body: Rehab, *, signed: bool = False
    ) -> None:
        before = self._last
        self._last = teller.pen.write(
            "rehab",
            body,
            hand.id,
            at,
            thing_id=before.id if before else None,
            parents=(before.revision,) if before else (),
            key=hand.key if signed else None,
        )
        self._body = body


def _order_of_work(it: TrueDamage) -> str:
    if it.kind in OF_ONE_BOLT:
        return "Bar down. A new bolt beside the old one."
    if it.kind == "bagged mesh":
        return "Let the rock down from outbye, mesh anew, bolt through both."
    if it.kind == "shotcrete weak":
        return "Bar down what is weak. Spray it again."
    return "Bar down. New mesh over the old, three openings onto sound mesh, bolted."
