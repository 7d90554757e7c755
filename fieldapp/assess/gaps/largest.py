"""The largest gap between bolts: the widest circle on the unrolled rock that holds none.

`neighbours` finds what a circle can't see; `gap_uncertainty` says how sure the figure is.
"""

from dataclasses import dataclass

import numpy as np

from fieldapp.assess.gaps.area import Area, FaceLine, Points
from fieldapp.assess.gaps.candidates import Candidates

_TIE_M = 1e-9
_TOUCH_M = 1e-7
_MANY = 1_000_000  # beyond that a tree is faster than every distance


@dataclass(frozen=True)
class Gap:
    """The widest circle without a bolt. `touching` are the bolts on it [m]."""

    centre_m: tuple[float, float]
    diameter_m: float
    touching: tuple[int, ...]
    touches_face: bool


def largest_gap(bolts_m: Points, area: Area, face_line: FaceLine | None) -> Gap:
    """Find the widest circle that holds no bolt.

    Its centre lies inside the area or on its edge; on the face side the whole circle lies
    behind the face line. Bolts may coincide, lie in a line, be one or none.

    Parameters
    ----------
    bolts_m : array of shape (n, 2)
        Bolts that count, as (chainage, distance from the crown). [m]
    area : Area
        Outline of the ground that must be supported. [m]
    face_line : FaceLine or None
        The face; None if only the area's edge bounds the centre. [m]

    Returns
    -------
    Gap
        Of circles equally wide the one nearest the joint, then nearest the crown. With
        neither bolt nor face, a circle that no bolt in the area could have been outside of. [m]

    Source
    ------
    Largest empty circle: Toussaint, Computing largest empty circles with location
    constraints, Int. J. Computer and Information Sciences 12, 1983 (from memory). Which
    edges bound the centre and which the circle: common practice, no source.
    """
    bolts = np.asarray(bolts_m, dtype=np.float64).reshape(-1, 2)
    if not len(bolts) and face_line is None:
        middle = (area.starts.max(axis=0) + area.starts.min(axis=0)) / 2
        return Gap(
            (float(middle[0]), float(middle[1])), 2 * area.diagonal_m, (), touches_face=False
        )
    centre, radius = _widest(bolts, area, face_line)
    off = np.hypot(*(bolts - centre).T)
    to_face = np.inf if face_line is None else float(face_line.distances_m(centre[None])[0])
    return Gap(
        centre_m=(float(centre[0]), float(centre[1])),
        diameter_m=2 * radius,
        touching=tuple(np.flatnonzero(off - radius < _TOUCH_M).tolist()),
        touches_face=to_face - radius < _TOUCH_M,
    )


def _widest(bolts: Points, area: Area, face: FaceLine | None) -> tuple[Points, float]:
    sites = bolts if face is None else np.concatenate([bolts, face.corners])
    candidates = Candidates(sites, area, face)
    places = area.held(candidates.without_face())
    radii = _distances_to_nearest(places, sites)
    if face is not None:
        more = area.held(candidates.with_face(float(radii.max())))
        radii = np.concatenate([radii, _distances_to_nearest(more, sites)])
        places = np.concatenate([places, more])
        radii = np.minimum(radii, face.distances_m(places))
    tied = places[radii >= radii.max() - _TIE_M]
    rounded = np.round(tied, 6)
    first = np.lexsort((rounded[:, 1], np.abs(rounded[:, 1]), rounded[:, 0]))[0]
    return tied[first], float(radii.max())


def _distances_to_nearest(places: Points, sites: Points) -> Points:
    from scipy.spatial import cKDTree
    from scipy.spatial.distance import cdist

    if len(places) * len(sites) > _MANY:
        return np.asarray(cKDTree(sites).query(places)[0])
    return np.asarray(cdist(places, sites).min(axis=1))
