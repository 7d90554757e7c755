"""Where the centre of the largest empty circle can lie.

The widest circle is held by three things: bolts, parts of the face line, and the edges that
its centre may not cross. Every triple that can hold one is turned into its centre here,
exactly; `gaps` takes the best of those that lie in the area. A centre too many costs time
only, so nothing is left out that might matter.

Centres held by an edge or by the bisector of two parts of the face lie on a line, written
as origin + t · direction; those held by two bolts lie on their bisector, written likewise.
"""

from collections.abc import Iterator
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.gap_area import Area, FaceLine, Points

Lines = tuple[Points, Points]
"""Origins and directions."""

Indices = NDArray[np.integer]

_FAR = 20.0  # times the reach of the sites: the frame that keeps a triangulation possible


def centres(sites: Points, area: Area, face: FaceLine | None) -> Points:
    """List every centre that may be the best.

    Parameters
    ----------
    sites : array of shape (n, 2)
        Bolts and corners of the face line. [m]
    area : Area
        The ground looked at. [m]
    face : FaceLine or None
        The face. [m]

    Returns
    -------
    array of shape (k, 2)
        Centres, some of them outside the area. [m]

    Source
    ------
    Largest empty circle by the Voronoi diagram: Toussaint, Computing largest empty circles
    with location constraints, Int. J. Computer and Information Sciences 12, 1983 (from
    memory); parabolas of points and lines as in any book of computational geometry.
    """
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        every = np.concatenate(list(_held(sites, area, face)))
        return np.asarray(every[np.isfinite(every).all(axis=1)])


def _held(sites: Points, area: Area, face: FaceLine | None) -> Iterator[Points]:
    """Give every centre; what is held nowhere comes out infinite or not a number."""
    yield area.starts
    edges = (area.starts, area.ends - area.starts)
    if len(sites):
        corners, pairs = _triangulated(sites)
        bisectors = _bisectors(sites, pairs)
        yield _circumcentres(sites[corners])
        yield _crossings(bisectors, edges)
        if face is not None:
            yield from _held_by_face_and_sites(sites, pairs, bisectors, edges, face)
    if face is not None:
        yield from _held_by_face_alone(edges, face)


def _triangulated(sites: Points) -> tuple[Indices, Indices]:
    """Give the corners of the triangles and the pairs of neighbours, as indices.

    Four far points frame the sites, so that one bolt, or all in a line, need no case of
    their own; triangles with them are left out.
    """
    from scipy.spatial import Delaunay

    middle = (sites.max(axis=0) + sites.min(axis=0)) / 2
    reach = _FAR * (float(np.ptp(sites, axis=0).max()) + 10.0)
    frame = middle + reach * np.array([[1.0, 0.1], [-0.1, 1.0], [-1.0, -0.1], [0.1, -1.0]])
    triangles = Delaunay(np.concatenate([sites, frame])).simplices
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
    sites: Points, pairs: Indices, bisectors: Lines, edges: Lines, face: FaceLine
) -> Iterator[Points]:
    """Give what the face holds with two sites, a site and an edge, or a site and itself."""
    half = np.hypot(*(sites[pairs[:, 1]] - sites[pairs[:, 0]]).T) / 2
    for start, normal in zip(face.corners[:-1], face.normals, strict=True):
        height = (bisectors[0] - start) @ normal, bisectors[1] @ normal
        t = _as_far(half * half, np.zeros_like(half), np.ones_like(half), *height)
        yield _on(bisectors, t)
        yield _on_lines_as_far(sites, edges, start, normal)
    for lines, start, normal in _face_bisectors(face):
        yield _on_lines_as_far(sites, lines, start, normal)


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
