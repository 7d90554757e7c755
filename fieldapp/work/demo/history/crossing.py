"""Intersections: which there truly are, and each as people stated it over days."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import partial
from typing import Final

from fieldapp.assess.intersections import positions_m
from fieldapp.assess.intersections.outlines import Shape, outline_m
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.places import RETURN
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.demo.history.truth import CABLE_KN, CABLE_SPREAD_KN, ENDS
from fieldapp.work.demo.people import BOLTER, ENGINEER
from fieldapp.work.demo.story import JUNCTION
from schemas.bodies.intersection import CableStep, Corner, Intersection, PlanBolt, PlanCable
from schemas.entry import Entry
from schemas.intersection_rules import PlanPattern
from schemas.signatures import SigningKey
from schemas.standard import Standard

OF_CLASS, CABLE = "W3", "LB50"
CABLE_M: Final = Decimal("5.0")
OFF_M: Final = 0.03
"""Standard deviation of a bolt from where it belongs, either way."""
GROUT: Final = "GR-0{n}"


@dataclass(frozen=True)
class TrueJunction:
    """One intersection. Metres; days after the record began."""

    heading: str
    from_m: Decimal
    shape: Shape
    width_m: float
    other_m: float
    cables: int
    days: Mapping[CableStep, float]
    """When each step was done that was done by the end of the record."""

    @property
    def corners(self) -> tuple[Corner, ...]:
        """Its outline, as it was designed and taped."""
        return tuple(_at(it) for it in outline_m(self.shape, self.width_m, self.other_m))


WHOLE: Final = TrueJunction(
    heading=JUNCTION,
    from_m=Decimal("44.0"),
    shape="turnout right",
    width_m=5.0,
    other_m=5.0,
    cables=8,
    days={"planned": 392.3, "drilled": 394.4, "grouted": 395.5, "plated": 398.4},
)
BEGUN: Final = TrueJunction(
    heading=RETURN,
    from_m=Decimal("180.0"),
    shape="turnout left",
    width_m=5.0,
    other_m=5.0,
    cables=6,
    days={"planned": ENDS - 3.6, "drilled": ENDS - 1.6},
)
"""A drive is to leave the old airway there: its cables are drilled, and nothing is in them."""
JUNCTIONS: Final = (WHOLE, BEGUN)


class Told:
    """One intersection as it is told, step by step."""

    def __init__(self, it: TrueJunction, standard: Standard, draws: Draws) -> None:
        demanded = standard.support_class(OF_CLASS)
        rule = demanded.intersection if demanded else None
        assert rule is not None  # noqa: S101 - the demo's standard has one
        assert rule.pattern is not None  # noqa: S101 - and it states a pattern
        self._it, self._pattern, self._draws = it, rule.pattern, draws
        self._last: tuple[Entry, Intersection] | None = None

    def happenings(self) -> Iterator[Happening]:
        """Yield its steps."""
        for step, day in self._it.days.items():
            yield Happening(day, partial(self._tell, step, day))

    def _tell(self, step: CableStep, day: float, teller: Teller) -> None:
        at = teller.at(day)
        if step == "planned":
            self._write(teller, self._planned(teller, at), teller.hands[ENGINEER].id, at)
            return
        assert self._last is not None  # noqa: S101 - it was planned before
        _, before = self._last
        body = before.model_copy(update={"step": step, "count": self._it.cables, "at": at})
        if step != "plated":
            self._write(teller, self._put_in(body), teller.hands[BOLTER].id, at)
            return
        hand = teller.supervisor(at)
        signed = {"role": "shift supervisor", "public_key": hand.key.public_key}
        body = self._tightened(body).model_copy(update=signed)
        self._write(teller, body, hand.id, at, hand.key)

    def _write(
        self,
        teller: Teller,
        body: Intersection,
        author: str,
        at: datetime,
        key: SigningKey | None = None,
    ) -> None:
        thing: str | None = None
        parents: tuple[str, ...] = ()
        if self._last is not None:
            entry, _ = self._last
            thing, parents = entry.id, (entry.revision,)
        written = teller.pen.write(
            "intersection", body, author, at, thing_id=thing, parents=parents, key=key
        )
        self._last = written, body

    def _planned(self, teller: Teller, at: datetime) -> Intersection:
        it, place = self._it, teller.places[self._it.heading]
        return Intersection(
            heading=place.known.id,
            from_m=it.from_m,
            to_m=it.from_m + to_step(it.other_m, "0.01"),
            corners=it.corners,
            corners_method="tape",
            bolts=self._bolts(self._pattern),
            support_class=OF_CLASS,
            cable=CABLE,
            cables=it.cables,
            step="planned",
            at=at,
            standard=place.standard.entry.revision,
        )

    def _bolts(self, pattern: PlanPattern) -> tuple[PlanBolt, ...]:
        """Give its bolts as they were taped: each a little off where it belongs."""
        about = (self._it.heading, "junction bolt")
        return tuple(
            PlanBolt(
                x_m=to_step(self._draws.around(x, OFF_M, *about, n, "x"), "0.01"),
                y_m=to_step(self._draws.around(y, OFF_M, *about, n, "y"), "0.01"),
                method="tape",
                plate="seated",
            )
            for n, (x, y) in enumerate(positions_m(self._it.corners, pattern))
        )

    def _put_in(self, body: Intersection) -> Intersection:
        """Say of each cable where it stands, how long it is, and with which grout."""
        batch = GROUT.format(n=int(self._it.days["planned"])) if body.step == "grouted" else ""
        cables = tuple(
            PlanCable(x_m=it.x_m, y_m=it.y_m, method="tape", length_m=CABLE_M, batch=batch)
            for it in _between(body.bolts, self._it.cables)
        )
        return body.model_copy(update={"cables_at": cables})

    def _tightened(self, body: Intersection) -> Intersection:
        about = (self._it.heading, "junction cable")
        cables = tuple(
            it.model_copy(update={"tension_kn": to_step(kn, "1")})
            for n, it in enumerate(body.cables_at)
            for kn in (self._draws.around(CABLE_KN, CABLE_SPREAD_KN, *about, n),)
        )
        return body.model_copy(update={"cables_at": cables})


def _between(bolts: tuple[PlanBolt, ...], number: int) -> Iterator[Corner]:
    """Yield so many places for cables, each between a bolt and the next, spread over all."""
    for n in range(number):
        one, other = bolts[(at := n * (len(bolts) - 1) // number)], bolts[at + 1]
        yield Corner(x_m=(one.x_m + other.x_m) / 2, y_m=(one.y_m + other.y_m) / 2)


def _at(place: tuple[float, float]) -> Corner:
    x, y = place
    return Corner(x_m=to_step(x, "0.01"), y_m=to_step(y, "0.01"))
