"""The ground that each bolt carries: nearer to it than to any other, clipped to the area.

A Voronoi diagram with a frame of far sites around it, so that one bolt, or bolts in a line,
have their ground too. Bolts at one place share it.
"""

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray

from fieldapp.assess.gaps.area import Points

Polygons = NDArray[Any]
"""Shapely polygons, one a site."""
Indices = NDArray[np.integer]

_FRAME: Final = np.array([[1.0, 0.1], [-0.1, 1.0], [-1.0, -0.1], [0.1, -1.0]])
_FAR: Final = 20.0
_SAME_PLACE: Final = 6
"""Decimals of a metre to which two sites are one."""


@dataclass(frozen=True)
class Tributary:
    """Cells of sites, not yet clipped, and the boundaries between them, clipped to the area.

    Each boundary lies between two sites of `pairs`; `lengths_m` and `middles_m` are its own.
    `shared_by` counts the sites at one place: they have one cell between them.
    """

    sites_m: Points
    cells: Polygons
    stands_for: Indices
    """The first site at the place of each: boundaries are its own."""
    shared_by: Indices
    pairs: Indices
    lengths_m: Points
    middles_m: Points

    def areas_m2(self, ground: shapely.Geometry) -> Points:
        """Give how much of a ground each site has [m2]."""
        return np.asarray(shapely.area(_clipped(self.cells, ground)) / self.shared_by)

    def moved_m(self) -> Points:
        """Give how each cell grows as each site moves.

        An array of shape (sites, sites, 2): ∂area of the first over ∂place of the second. A
        boundary of length L with its middle m gives way to a neighbour p at distance d by
        L·(p − m)/d, and to its own site the other way. [m]
        """
        grown = np.zeros((len(self.sites_m), len(self.sites_m), 2))
        one, other = self.pairs.T
        apart = np.hypot(*(self.sites_m[one] - self.sites_m[other]).T)
        share = (self.lengths_m / apart)[:, None]
        for own, neighbour in ((one, other), (other, one)):
            np.add.at(grown, (own, neighbour), share * (self.sites_m[neighbour] - self.middles_m))
            np.add.at(grown, (own, own), share * (self.middles_m - self.sites_m[own]))
        return np.asarray(grown[self.stands_for] / self.shared_by[:, None, None])


def tributary(sites_m: Points, ground: shapely.Geometry) -> Tributary:
    """Divide the ground among sites: each part belongs to the nearest.

    Parameters
    ----------
    sites_m : array of shape (n, 2)
        One site or more, as (chainage, distance from the crown). [m]
    ground : shapely geometry
        The area that is divided. [m]

    Returns
    -------
    Tributary
        Cells and boundaries. [m]

    Source
    ------
    Voronoi diagram by Qhull: Barber, Dobkin and Huhdanpaa, ACM Trans. Math. Software 22, 1996.
    """
    from scipy.spatial import Voronoi

    rounded = np.round(sites_m, _SAME_PLACE)
    places, of = np.unique(rounded, axis=0, return_inverse=True)
    of = of.reshape(-1)
    middle = places.mean(axis=0)
    low_x, low_s, high_x, high_s = shapely.bounds(ground)
    bounds = np.array([[low_x, low_s], [high_x, high_s]])
    reach = float(np.abs(np.concatenate([places, bounds]) - middle).max())
    diagram = Voronoi(np.concatenate([places - middle, _FRAME * reach * _FAR]))
    cells = _polygons(diagram, len(places), middle)
    first = np.unique(of, return_index=True)[1]
    pairs, lines = _boundaries(diagram, len(places), middle)
    clipped = _clipped(lines, ground)
    lengths = np.asarray(shapely.length(clipped))
    held = lengths > 0
    middles = shapely.get_coordinates(shapely.centroid(clipped[held])).reshape(-1, 2)
    return Tributary(
        sites_m=rounded,
        cells=cells[of],
        stands_for=first[of],
        shared_by=np.bincount(of)[of],
        pairs=first[pairs[held]],
        lengths_m=lengths[held],
        middles_m=middles,
    )


def _clipped(shapes: Polygons, ground: shapely.Geometry) -> Polygons:
    """Give what of each lies in the ground; only what crosses its edge is worth cutting."""
    if not len(shapes):
        return shapes
    shapely.prepare(ground)
    clipped = shapes.copy()
    cut = ~shapely.contains_properly(ground, shapes)
    clipped[cut] = shapely.intersection(shapes[cut], ground)
    return clipped


def _polygons(diagram: Any, count: int, middle: Points) -> Polygons:
    """Draw the cells of the first sites; those of the frame reach on for ever."""
    regions = [diagram.regions[diagram.point_region[site]] for site in range(count)]
    corners = diagram.vertices[np.concatenate(regions)] + middle
    of = np.repeat(np.arange(count), [len(region) for region in regions])
    return np.asarray(shapely.polygons(shapely.linearrings(corners, indices=of)))


def _boundaries(diagram: Any, count: int, middle: Points) -> tuple[Indices, Polygons]:
    """Give the lines between two sites, none of them of the frame."""
    between = (diagram.ridge_points < count).all(axis=1)
    ends = np.array(diagram.ridge_vertices).reshape(-1, 2)[between]
    lines = shapely.linestrings(diagram.vertices[ends] + middle) if len(ends) else np.array([])
    return diagram.ridge_points[between], np.asarray(lines)
