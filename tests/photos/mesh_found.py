"""Random photos of mesh, and whether the frame proposed on one is right."""

from functools import cache
from typing import Final

import numpy as np

from fieldapp.assess.photo.lattice import Proposed, proposed_frame
from fieldapp.work.photo.framing import light_of_wires
from tests.photos.rendered import Mesh, Rendered, Taken, look

TORN: Final = ((120.0, 60.0), (330.0, 90.0), (380.0, 240.0), (250.0, 330.0), (100.0, 200.0))
OFF_PX: Final = 6.0
"""Of 1,600 across: a corner this near its crossing is on it."""


@cache
def random_photo(seed: int) -> Rendered:
    """Take a photo from 0.9 to 2.2 m and up to 50° aside, torn mesh in every second one."""
    chance = np.random.default_rng(seed)
    mesh = Mesh(
        turned=chance.uniform(-0.5, 0.5),
        sag_mm=chance.uniform(0, 40),
        rust=chance.uniform(0, 0.9),
        tear_mm=TORN if seed % 2 else (),
    )
    taken = Taken(
        size_px=(1_600, 1_200),
        tilt_deg=chance.uniform(0, 50),
        toward_deg=chance.uniform(0, 360),
        distance_mm=chance.uniform(900, 2_200),
        blur_px=chance.uniform(0.5, 2),
        light=chance.uniform(0.3, 1.2),
        noise=chance.uniform(0.01, 0.06),
        seed=seed,
    )
    return look(mesh, taken)


def without_mesh(seed: int) -> Rendered:
    """Take a photo of rock alone: the wires are a hair."""
    return look(Mesh(wire_mm=0.01), Taken(size_px=(1_600, 1_200), seed=seed))


def found_in(photo: Rendered) -> Proposed | None:
    return proposed_frame(light_of_wires(photo.picture))


def is_right(photo: Rendered, found: Proposed) -> bool:
    """Tell whether each corner is on a crossing, and so many openings lie between."""
    names = np.array([(i, j) for i in range(-30, 31) for j in range(-30, 31)], dtype=np.float64)
    apart = np.hypot(*(photo.pixels(names)[:, None] - found.corners_px[None]).transpose(2, 0, 1))
    corners = names[apart.argmin(axis=0)]
    sides = np.abs(np.roll(corners, -1, axis=0) - corners).sum(axis=1)
    on_crossings = apart.min(axis=0).max() < OFF_PX
    wanted = [found.across, found.along, found.across, found.along]
    return bool(on_crossings and sides.tolist() == wanted)
