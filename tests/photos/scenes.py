"""Scenes of mesh with known truth, and the taps of a hand that misses a little.

The surface sags, bends with the drive or has bent wires; the lens bends twice over and is told
wrong; the pitch is off by up to 1 %; taps scatter with long tails. None of it is in the form in
which the estimator states its doubts.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

Kind: TypeAlias = Literal["flat", "sagging", "curved drive", "bent wires"]
KINDS: Final[tuple[Kind, ...]] = ("flat", "sagging", "curved drive", "bent wires")
Array: TypeAlias = NDArray[np.float64]
Surface: TypeAlias = Callable[[Array], Array]
"""Height toward the camera [mm] of places [mm]."""
WIDTH_PX, HEIGHT_PX = 4000, 3000
PITCH_MM = 100.0


@dataclass(frozen=True)
class Scene:
    """One photo: the taps on it, and what is true."""

    cells: int
    """Openings of the frame each way."""
    corners_px: Array
    ends_px: Array
    """Two points between which is measured."""
    told_focal_px: float
    true_mm: float


def scenes(kind: Kind, number: int, seed: int) -> Iterator[Scene]:
    """Yield as many random scenes of one kind, the same for the same seed."""
    chance = np.random.default_rng(seed)
    while number:
        scene = _scene(kind, chance)
        if scene is not None:
            number -= 1
            yield scene


def _scene(kind: Kind, chance: np.random.Generator) -> Scene | None:
    surface, cells = _surface(kind, chance), int(chance.integers(3, 7))
    half = cells * PITCH_MM / 2
    places = np.vstack((_corners(kind, cells, chance), _ends(half, chance)))
    points = np.column_stack((places, surface(places)))
    seen = _seen(points, chance)
    if seen is None:
        return None
    pixels, focal_px = seen
    tapped = pixels + chance.standard_t(5, pixels.shape) * 2.2
    return Scene(
        cells=cells,
        corners_px=tapped[:4],
        ends_px=tapped[4:],
        told_focal_px=focal_px * chance.uniform(0.96, 1.04),
        true_mm=float(np.linalg.norm(points[4] - points[5])),
    )


def _surface(kind: Kind, chance: np.random.Generator) -> Surface:
    shift = chance.uniform(0, 1200, 2)
    if kind == "sagging":
        deep, wide = chance.uniform(5, 40), chance.uniform(1000, 1500)
        return lambda at: -deep / 2 * np.cos(2 * np.pi * (at - shift) / wide).sum(axis=1)
    if kind == "curved drive":
        radius, turned = chance.uniform(2000, 4000), chance.uniform(0, np.pi)
        across = np.array([np.cos(turned), np.sin(turned)])
        return lambda at: (at @ across) ** 2 / (2 * radius)
    if kind == "bent wires":
        deep, wide = chance.uniform(2, 10), chance.uniform(150, 500)
        return lambda at: deep * np.sin(2 * np.pi * at / wide + shift).prod(axis=1)
    return lambda at: np.zeros(len(at))


def _corners(kind: Kind, cells: int, chance: np.random.Generator) -> Array:
    true_pitch = PITCH_MM * (1 + chance.uniform(-0.01, 0.01))
    square = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=np.float64) - 0.5
    return square * cells * true_pitch + chance.normal(
        0, 3 if kind == "bent wires" else 0.7, (4, 2)
    )


def _ends(half_mm: float, chance: np.random.Generator) -> Array:
    """Two points not more than half a frame outside the frame."""
    while True:
        start, turned = chance.uniform(-2 * half_mm, 2 * half_mm, 2), chance.uniform(0, 2 * np.pi)
        end = start + chance.uniform(60, 600) * np.array([np.cos(turned), np.sin(turned)])
        if np.abs(end).max() < 2 * half_mm:
            return np.vstack((start, end))


def _seen(points: Array, chance: np.random.Generator) -> tuple[Array, float] | None:
    """Look at points from up to 50° aside; None where one of them is not in the picture."""
    tilt = _turn(chance.uniform(-np.pi, np.pi), 2) @ _turn(np.radians(chance.uniform(0, 50)), 0)
    turned = points @ (tilt @ _turn(chance.uniform(0, 2 * np.pi), 2)).T
    before = turned + np.array([*chance.normal(0, 80, 2), chance.uniform(900, 2500)])
    if (before[:, 2] < 300).any():
        return None
    focal_px = WIDTH_PX * chance.uniform(0.7, 1.0)
    out = before[:, :2] / before[:, 2:] * focal_px
    far = (out**2).sum(axis=1, keepdims=True) / (np.hypot(WIDTH_PX, HEIGHT_PX) / 2) ** 2
    bent = out * (1 + chance.uniform(-0.02, 0.02) * far + chance.uniform(-0.01, 0.01) * far**2)
    pixels = bent + np.array([WIDTH_PX / 2, HEIGHT_PX / 2])
    inside = (pixels >= 0).all() and (pixels <= (WIDTH_PX, HEIGHT_PX)).all()
    return (pixels, focal_px) if inside else None


def _turn(angle: float, axis: int) -> Array:
    first, second = ((1, 2), (0, 2), (0, 1))[axis]
    turn = np.eye(3)
    turn[first, first] = turn[second, second] = np.cos(angle)
    turn[first, second], turn[second, first] = -np.sin(angle), np.sin(angle)
    return turn
