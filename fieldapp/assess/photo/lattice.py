"""The mesh found by itself: a frame is proposed, a person confirms it."""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, TypeAlias

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.spatial import KDTree

from fieldapp.assess.photo.crossings import Crossings, crossings
from fieldapp.assess.photo.homography import NoPlane, Points, homography

LOOKED_AT_PX: Final = (960, 640)
"""Longer edges of the pictures in which the mesh is looked for: wires of several widths."""
SMALLEST_PX: Final = 100
"""A narrower strip shows no mesh."""
FEWEST: Final = 12
"""Crossings that make a lattice."""
MOST_OPENINGS: Final = 6
FEWEST_OPENINGS: Final = 4
SEEDS: Final = 80
NEAREST: Final = 12.0
FARTHEST: Final = 320.0
OFF_WAY: Final = 0.16
"""Sideways, as a share of the distance, that a neighbour may lie off its wire's way."""
OFF_PLACE: Final = 0.22
"""Of the spacing, that a crossing may lie from where its neighbours say."""
ALIKE: Final = 0.97
"""Cosine of the most by which a wire turns from one crossing to the next: 14°."""
FITS_PX: Final = 4.0

Cell: TypeAlias = tuple[int, int]


@dataclass(frozen=True)
class Proposed:
    """Four crossings round a frame, and how many openings lie between them."""

    corners_px: Points
    across: int
    along: int
    crossings_px: Points
    """Every crossing that belongs to the lattice."""


def proposed_frame(grey: NDArray[np.uint8], *, dark: bool = False) -> Proposed | None:
    """Look for welded mesh and propose a frame on it.

    Parameters
    ----------
    grey : array of shape (height, width)
        The picture, 0 to 255. [-]
    dark : bool
        The wires are darker than what is behind them, as before shotcrete; else lighter, as
        before rock, where their shadows are the darker lattice. [-]

    Returns
    -------
    Proposed or None
        The frame, up to six openings each way, near the picture's middle; None where no mesh
        is found. [px]

    Source
    ------
    Own method: a lattice grown from crossing to crossing, kept as far as one plane explains it.
    """
    wires = np.asarray(255 - grey if dark else grey, dtype=np.uint8)
    looks = (_proposed(wires, size) for size in LOOKED_AT_PX)
    proposals = [it for it in looks if it is not None]
    return max(proposals, key=lambda it: (it.across, len(it.crossings_px)), default=None)


def _proposed(grey: NDArray[np.uint8], size_px: int) -> Proposed | None:
    scale = min(size_px / max(grey.shape), 1.0)
    if min(grey.shape) * scale < SMALLEST_PX:
        return None
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    found = crossings(np.asarray(small, dtype=np.uint8))
    cells = _largest_lattice(found)
    if len(cells) < FEWEST:
        return None
    fitted = _of_one_plane(found.pixels, cells)
    frame = _best_frame(fitted, np.array(small.shape[::-1]) / 2)
    if frame is None:
        return None
    corners, across, along = frame
    return Proposed(corners / scale, across, along, np.array(list(fitted.values())) / scale)


def _largest_lattice(found: Crossings) -> dict[Cell, int]:
    """Grow from the strongest seeds that no lattice holds yet, and keep the largest."""
    if len(found.pixels) < FEWEST:
        return {}
    tree, largest, held = KDTree(found.pixels), dict[Cell, int](), set[int]()
    for seed in range(min(SEEDS, len(found.pixels))):
        if seed in held:
            continue
        grown = _grown(found, tree, seed)
        held.update(grown.values())
        largest = max(largest, grown, key=len)
    return largest


def _grown(found: Crossings, tree: KDTree, seed: int) -> dict[Cell, int]:
    """Give a number to each crossing that can be reached from a seed, step by step."""
    first = _first_steps(found, tree, seed)
    if first is None:
        return {}
    cells: dict[Cell, int] = {(0, 0): seed}
    steps: dict[Cell, NDArray[np.float64]] = {(0, 0): first}
    taken, waiting = {seed}, deque([(0, 0)])
    while waiting:
        cell = waiting.popleft()
        for way, forward in ((0, 1), (0, -1), (1, 1), (1, -1)):
            beside = (cell[0] + forward * (way == 0), cell[1] + forward * (way == 1))
            if beside in cells:
                continue
            moved = forward * steps[cell][way]
            there = _near(found, tree, cells[cell], moved, taken)
            if there is None:
                continue
            cells[beside] = there
            taken.add(there)
            steps[beside] = steps[cell].copy()
            steps[beside][way] = (found.pixels[there] - found.pixels[cells[cell]]) * forward
            waiting.append(beside)
    return cells


def _first_steps(found: Crossings, tree: KDTree, seed: int) -> NDArray[np.float64] | None:
    """Find the nearest crossing along each of the seed's two wires."""
    here = found.pixels[seed]
    near = np.array(tree.query_ball_point(here, FARTHEST))
    near = near[(near != seed) & _alike(found, seed, near)]
    steps = []
    for way in found.ways[seed]:
        out = found.pixels[near] - here
        ahead, aside = out @ way, np.abs(out @ np.array([-way[1], way[0]]))
        fits = (np.abs(ahead) > NEAREST) & (aside < OFF_WAY * np.abs(ahead))
        if not fits.any():
            return None
        ahead, out = ahead[fits], out[fits]
        nearest = np.abs(ahead).argmin()
        steps.append(out[nearest] * np.sign(ahead[nearest]))
    return np.array(steps)


def _near(
    found: Crossings, tree: KDTree, here: int, step: NDArray[np.float64], taken: set[int]
) -> int | None:
    wanted = found.pixels[here] + step
    near = np.array(tree.query_ball_point(wanted, OFF_PLACE * float(np.hypot(*step))), dtype=int)
    near = near[_alike(found, here, near)] if len(near) else near
    free = [it for it in near if int(it) not in taken]
    if not free:
        return None
    return int(min(free, key=lambda it: float(np.hypot(*(found.pixels[it] - wanted)))))


def _alike(found: Crossings, one: int, others: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Tell which crossings have wires that run about as this one's do."""
    along = np.abs(np.einsum("wx,nvx->nwv", found.ways[one], found.ways[others]))
    return np.asarray((along.max(axis=2) > ALIKE).all(axis=1))


def _of_one_plane(pixels: Points, cells: dict[Cell, int]) -> dict[Cell, Points]:
    """Keep the crossings that one plane explains."""
    names = np.array(list(cells), dtype=np.float64)
    seen = pixels[list(cells.values())]
    _, kept = cv2.findHomography(names, seen, cv2.RANSAC, FITS_PX)
    if kept is None:
        return {}
    return {
        cell: pixels[number]
        for (cell, number), it in zip(cells.items(), kept.ravel(), strict=True)
        if it
    }


def _best_frame(fitted: dict[Cell, Points], middle: Points) -> tuple[Points, int, int] | None:
    """Choose the largest frame with all its corners seen; of equals the nearest the middle."""
    for openings in range(MOST_OPENINGS, FEWEST_OPENINGS - 1, -1):
        frames = list(_frames(fitted, openings))
        if frames:
            corners = min(frames, key=lambda it: float(np.hypot(*(it.mean(axis=0) - middle))))
            return corners, openings, openings
    return None


def _frames(fitted: dict[Cell, Points], openings: int) -> Iterator[Points]:
    for i, j in fitted:
        cells = ((i, j), (i + openings, j), (i + openings, j + openings), (i, j + openings))
        inside = [
            (i + a, j + b) in fitted for a in range(openings + 1) for b in range(openings + 1)
        ]
        if all(cell in fitted for cell in cells) and np.mean(inside) > 0.8:  # noqa: PLR2004
            corners = np.array([fitted[cell] for cell in cells])
            try:
                homography(corners, np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=np.float64))
            except NoPlane:
                continue
            yield corners
