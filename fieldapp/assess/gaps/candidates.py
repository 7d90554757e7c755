"""Where the centre of the largest empty circle can lie.

The widest circle is held by three things: bolts, parts of the face line, and the edges that
its centre may not cross. Every triple that can hold one is turned into its centre here,
exactly; `gaps` takes the best of those that lie in the area. A centre too many costs time
only, so nothing is left out that might matter.

Centres held by an edge or by the bisector of two parts of the face lie on a line, written
as origin + t · direction; those held by two bolts lie on their bisector, written likewise.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.gaps.area import Area, FaceLine, Points

Lines = tuple[Points, Points]
"""Origins and directions."""

Indices = NDArray[np.integer]

_FRAME = np.array([[1.0, 0.1], [-0.1, 1.0], [-1.0, -0.1], [0.1, -1.0]])

_NONE = np.empty((0, 2), dtype=np.int64)
_CLOSE_M = 1e-9
_FAR = 20.0  # times the reach of the sites: the frame that keeps a triangulation possible


class Candidates:
    """The centres that may be the best, in two steps: what needs the face comes second.

    The first step also tells how wide any circle can be, and with it which sites are near
    enough to the face to hold a circle together with it.
    """

    def __init__(self, sites: Points, area: Area, face: FaceLine | None) -> None:
        self._sites = sites
        self._area = area
        self._face = face
        self._corners: Indices = _NONE
        self._pairs: Indices = _NONE
        if len(sites):
            self._corners, self._pairs = _triangulated(sites)
        self._edges = _edges(area, face)

    def without_face(self) -> Points:
        """Give what sites and edges hold: the area's corners among it."""
        found = [self._area.starts]
        if len(self._sites):
            bisectors = _bisectors(self._sites, self._pairs)
            with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
                found.append(_circumcentres(self._sites[self._corners]))
                found.append(_crossings(bisectors, self._edges))
        return _finite(found)

    def with_face(self, widest_m: float) -> Points:
        """Give what the face holds too, no circle being wider than `widest_m` in radius."""
        if self._face is None:
            return np.empty((0, 2))
        near = self._face.distances_m(self._sites) <= 2 * widest_m + _CLOSE_M
        pairs = self._pairs[near[self._pairs].all(axis=1)] if len(self._pairs) else _NONE
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            found = list(_held_by_face_alone(self._edges, self._face))
            found += _held_by_face_and_sites(self._sites, (near, pairs), self._edges, self._face)
        return _finite(found)


def _finite(found: Sequence[Points]) -> Points:
    """Leave out what is held nowhere: it came out infinite or not a number."""
    every = np.concatenate([*found, np.empty((0, 2))])
    return np.asarray(every[np.isfinite(every).all(axis=1)])


def _edges(area: Area, face: FaceLine | None) -> Lines:
    """Give the edges that a centre can lie on: none of those that are the face itself."""
    along = area.ends - area.starts
    kept = (along != 0).any(axis=1)
    if face is not None:
        far = np.maximum(face.distances_m(area.starts), face.distances_m(area.ends))
        kept &= far > _CLOSE_M
    return area.starts[kept], along[kept]


def _triangulated(sites: Points) -> tuple[Indices, Indices]:
    """Give the corners of the triangles and the pairs of neighbours, as indices.

    Four far points frame the sites, so that one bolt, or all in a line, need no case of
    their own; triangles with them are left out.
    """
    from scipy.spatial import Delaunay

    low, high = sites.min(axis=0), sites.max(axis=0)
    reach = _FAR * (float((high - low).max()) + 10.0)
    triangles = Delaunay(np.concatenate([sites - (low + high) / 2, reach * _FRAME])).simplices
    sides = np.sort(triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    n = len(sites)
    once = np.unique((sides[:, 0] * n + sides[:, 1])[sides[:, 1] < n])
    pairs = np.column_stack(np.divmod(once, n))
    return triangles[(triangles < n).all(axis=1)], pairs


def _circumcentres(triangles: Points) -> Points:
    a = triangles[:, 0]
    b, c = triangles[:, 1] - a, triangles[:, 2] - a
    bb, cc = (b * b).sum(axis=1), (c * c).sum(axis=1)
    twice = 2 * (b[:, 0] * c[:, 1] - b[:, 1] * c[:, 0])
    x = (c[:, 1] * bb - b[:, 1] * cc) / twice
    s = (b[:, 0] * cc - c[:, 0] * bb) / twice
    return np.asarray(a + np.column_stack((x, s)))


def _bisectors(sites: Points, pairs: Indices) -> Lines:
    p, q = sites[pairs[:, 0]], sites[pairs[:, 1]]
    along = q - p
    square = np.column_stack((-along[:, 1], along[:, 0]))
    return (p + q) / 2, square / np.hypot(*along.T)[:, None]


def _crossings(lines: Lines, others: Lines) -> Points:
    """Cross every line with every other line."""
    origin, along = lines[0][:, None], lines[1][:, None]
    apart = others[0][None] - origin
    t = _cross(apart, others[1][None]) / _cross(along, others[1][None])
    places = origin + t[..., None] * along
    return np.asarray(places.reshape(-1, 2))


def _held_by_face_and_sites(
    sites: Points, near: tuple[NDArray[np.bool_], Indices], edges: Lines, face: FaceLine
) -> Iterator[Points]:
    """Give what the face holds with two sites, a site and an edge, or a site and itself."""
    single, pairs = sites[near[0]], near[1]
    bisectors = _bisectors(sites, pairs)
    half = np.hypot(*(sites[pairs[:, 1]] - sites[pairs[:, 0]]).T) / 2
    for start, normal in zip(face.corners[:-1], face.normals, strict=True):
        height = (bisectors[0] - start) @ normal, bisectors[1] @ normal
        t = _as_far(half * half, np.zeros_like(half), np.ones_like(half), *height)
        yield _on(bisectors, t)
        yield _on_lines_as_far(single, edges, start, normal)
    for lines, start, normal in _face_bisectors(face):
        yield _on_lines_as_far(single, lines, start, normal)


def _held_by_face_alone(edges: Lines, face: FaceLine) -> Iterator[Points]:
    """Give what the face holds twice with an edge, or three times."""
    lines = [line for line, _, _ in _face_bisectors(face)]
    for line in lines:
        yield _crossings(line, edges)
    for one, other in combinations(lines, 2):
        yield _crossings(one, other)


def _face_bisectors(face: FaceLine) -> Iterator[tuple[Lines, Points, Points]]:
    """Give the line as far from one part of the face as from another."""
    parts = zip(face.corners[:-1], face.normals, strict=True)
    for (a, a_normal), (b, b_normal) in combinations(parts, 2):
        across = a_normal - b_normal
        square = float(across @ across)
        if square > 0:  # two parts in one line share no bisector
            origin = across * (a @ a_normal - b @ b_normal) / square
            direction = np.array([-across[1], across[0]]) / np.sqrt(square)
            yield (origin[None], direction[None]), a, a_normal


def _on_lines_as_far(sites: Points, lines: Lines, start: Points, normal: Points) -> Points:
    """Find the places on each line as far from a site as from a part of the face."""
    apart = lines[0][None] - sites[:, None]
    along = np.broadcast_to(lines[1][None], apart.shape)
    height = (lines[0] - start) @ normal, lines[1] @ normal
    t = _as_far(
        (apart * apart).sum(axis=2), (apart * along).sum(axis=2), (along * along).sum(axis=2),
        height[0][None], height[1][None],
    )  # fmt: skip
    origins = np.broadcast_to(lines[0][None], apart.shape)
    return _on((origins, along), t)


def _as_far(d0: Points, d1: Points, d2: Points, h0: Points, h1: Points) -> Points:
    """Solve d0 + 2·d1·t + d2·t² = (h0 + h1·t)² for t, stably, also where it is linear."""
    a, half_b, c = d2 - h1 * h1, d1 - h0 * h1, d0 - h0 * h0
    root = np.sqrt(np.maximum(half_b * half_b - a * c, 0.0))
    q = -(half_b + np.copysign(root, half_b))
    return np.stack((q / a, c / q))


def _on(lines: Lines, t: Points) -> Points:
    return np.asarray((lines[0] + t[..., None] * lines[1]).reshape(-1, 2))


def _cross(a: Points, b: Points) -> Points:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])
