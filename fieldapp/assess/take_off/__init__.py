"""Take-off: what an advance takes in bolts, plates, mesh and resin by the standard.

No verdict comes of it: it is what is ordered, brought and used, never what is demanded.
"""

from fieldapp.assess.take_off.compared import Difference, compared
from fieldapp.assess.take_off.cost import cost_of_round, material_cost
from fieldapp.assess.take_off.mesh import MeshNeeded, Strip
from fieldapp.assess.take_off.of_round import take_off_of_round
from fieldapp.assess.take_off.pace import meshed_m2, minutes_of, times_contradict
from fieldapp.assess.take_off.resin import ResinOfBolt, resin_of_bolt
from fieldapp.assess.take_off.whole import (
    Item,
    Kind,
    NoSuchAdvance,
    TakeOff,
    Wanted,
    least_lap_mm,
    take_off,
    wanted_by_round,
    wanted_for,
)

__all__ = [
    "Difference",
    "Item",
    "Kind",
    "MeshNeeded",
    "NoSuchAdvance",
    "ResinOfBolt",
    "Strip",
    "TakeOff",
    "Wanted",
    "compared",
    "cost_of_round",
    "least_lap_mm",
    "material_cost",
    "meshed_m2",
    "minutes_of",
    "resin_of_bolt",
    "take_off",
    "take_off_of_round",
    "times_contradict",
    "wanted_by_round",
    "wanted_for",
]
