"""What each bolt carries beside what is demanded of it: load in kN, energy in kJ.

A bolt that carries nothing has no ground: its neighbours carry it, as if it were missing. Stiff
and yielding bolts take up no energy together: the stiff break before the others have theirs. So
each kind stands against the demand alone, with its own ground.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

import numpy as np

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.area import Points
from fieldapp.assess.load.carried import WALLS, Carried, carried
from fieldapp.assess.load.demand import Demands, Of, Part
from fieldapp.assess.load.ground import LoadGround, Share
from fieldapp.assess.pattern import zone_of
from fieldapp.assess.seen import Seen

PARTS: Final[tuple[Part, ...]] = ("back", "walls")

_AS_NEAR_M: Final = 0.1

Kind = Literal["every", "stiff", "yielding"]


@dataclass(frozen=True)
class BoltLoad:
    """One bolt's ground, what it carries and what that ground demands of it [kN or kJ]."""

    share: Share
    carries: float
    demanded: float

    @property
    def factor(self) -> float:
        """How many times it carries what is demanded; without end where nothing is."""
        return self.carries / self.demanded if self.demanded > 0 else math.inf


@dataclass(frozen=True)
class Loads:
    """What the bolts of one kind carry, in pressure or in energy."""

    of: Of
    kind: Kind
    bolts: tuple[BoltLoad, ...]

    def in_part(self, part: Part) -> tuple[BoltLoad, ...]:
        """Give those that stand in a part and have something to carry."""
        walls = part == "walls"
        return tuple(
            it for it in self.bolts if (it.share.bolt.zone in WALLS) == walls and it.demanded > 0
        )

    @property
    def least(self) -> float:
        """The least factor; 0 where no bolt carries anything."""
        return min((it.factor for it in self.bolts), default=0.0)


@dataclass(frozen=True)
class LoadsSeen:
    """All that a round carries, worked out where it is asked."""

    seen: Seen
    ground: LoadGround
    demands: Demands

    @cached_property
    def carried(self) -> tuple[tuple[Bolt, Carried], ...]:
        """Each bolt that stands in the ground and counts, with what it carries."""
        rows = {row.number: row for row in self.seen.all_rows}
        every = [bolt for row in rows.values() for bolt in row.all_bolts if bolt.anchored]
        return tuple(
            (it, carried(it, rows[it.row].rules, self.demands)) for it in self.ground.inside(every)
        )

    @cached_property
    def pressure(self) -> Loads | None:
        """The load of each bolt; None where no pressure is demanded."""
        back, walls = self.demands.back.pressure_kpa, self.demands.walls.pressure_kpa
        if back is None and walls is None:
            return None
        held = [(bolt, it.capacity.kn) for bolt, it in self.carried if it.capacity.kn > 0]
        return Loads("pressure", "every", self._loads(held, (back or 0.0, walls or 0.0)))

    @cached_property
    def energy(self) -> Loads | None:
        """The energy of the kind of bolts that carries more; None where none is demanded."""
        back, walls = self.demands.back.energy_kj_per_m2, self.demands.walls.energy_kj_per_m2
        if back is None and walls is None:
            return None
        kinds: tuple[tuple[Kind, bool], ...] = (("yielding", True), ("stiff", False))
        each = []
        for kind, yields in kinds:
            held = [
                (bolt, it.energy_kj)
                for bolt, it in self.carried
                if it.yields is yields and it.energy_kj > 0
            ]
            loads = self._loads(held, (back or 0.0, walls or 0.0))
            each.append(Loads("energy", kind, loads))
        return max(each, key=lambda loads: loads.least)

    def without_bolts(self, loads: Loads, part: Part) -> Iterator[str]:
        """Name the zones of a part that bolts belong in, and where none carries anything."""
        stand = {it.share.bolt.zone for it in loads.bolts}
        wanted = {
            str(zone_of(s_m, self.seen.borders))
            for row in self.seen.all_rows
            for s_m in row.demanded.s_m
        }
        if part == "walls":
            yield from sorted((wanted & WALLS) - stand)
        elif wanted - WALLS and not stand - WALLS:
            yield "back"

    def asked(self, of: Of, part: Part) -> float | None:
        """Give what is demanded of a part, in kPa or kJ/m²."""
        demand = self.demands.back if part == "back" else self.demands.walls
        return demand.pressure_kpa if of == "pressure" else demand.energy_kj_per_m2

    def to_blame(self, bolts: Sequence[BoltLoad]) -> list[Bolt]:
        """Give for each bolt the place that it stands in for, where nothing carries; or itself.

        Those nearest to such a place, with a tenth of a metre to spare, carry its ground.
        """
        own = [it.share.bolt for it in bolts]
        carry = [bolt for bolt, it in self.carried if it.capacity.kn > 0]
        known = {id(bolt) for bolt in carry}
        every = (bolt for row in self.seen.all_rows for bolt in row.bolts.positions)
        bare = [bolt for bolt in every if id(bolt) not in known]
        if not bare or not own:
            return own
        empty = self.ground.gaps.places_m(bare)
        nearest = _apart_m(empty, self.ground.gaps.places_m(carry)).min(axis=1)
        apart = _apart_m(empty, self.ground.gaps.places_m(own))
        apart[apart > nearest[:, None] + _AS_NEAR_M] = np.inf
        first = apart.argmin(axis=0)
        stands_in = np.isfinite(apart.min(axis=0))
        return [bare[first[n]] if stands_in[n] else bolt for n, bolt in enumerate(own)]

    def _loads(
        self, held: Sequence[tuple[Bolt, float]], demanded: tuple[float, float]
    ) -> tuple[BoltLoad, ...]:
        shares = self.ground.shares([bolt for bolt, _ in held])
        return tuple(
            BoltLoad(share, carries, share.back_m2 * demanded[0] + share.walls_m2 * demanded[1])
            for share, (_, carries) in zip(shares, held, strict=True)
        )


def _apart_m(places_m: Points, others_m: Points) -> Points:
    return np.asarray(np.hypot(*(places_m[:, None] - others_m[None]).transpose(2, 0, 1)))
