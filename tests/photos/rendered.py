"""Photos of mesh underground, rendered so that every place in them is known.

A cap lamp lights rock behind welded mesh that sags between its plates, is bent and rusts; the
lens bends the picture and blurs it, and the sensor is noisy. `look` gives the picture and says
where in it any place on the mesh is seen.
"""

from dataclasses import dataclass, field
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter, zoom

Array: TypeAlias = NDArray[np.float64]
STEPS: Final = 4
"""How often a ray's place on the bulging mesh is put right."""
BEHIND_MM: Final = 60.0


@dataclass(frozen=True)
class Mesh:
    """Welded mesh on the rock: places in millimetres, from the middle of the photo."""

    pitch_mm: tuple[float, float] = (100.0, 100.0)
    wire_mm: float = 5.6
    sag_mm: float = 20.0
    bolts_mm: float = 1_200.0
    """Between plates, which hold the mesh on the rock."""
    bent_mm: float = 1.5
    turned: float = 0.1
    """The wires' angle to the photo's edge [rad]."""
    rust: float = 0.3
    tear_mm: tuple[tuple[float, float], ...] = ()
    """Corners of a hole; the wires end there."""


@dataclass(frozen=True)
class Taken:
    """How a photo was taken."""

    size_px: tuple[int, int] = (2_000, 1_500)
    focal: float = 0.8
    """As a share of the width."""
    distance_mm: float = 1_500.0
    tilt_deg: float = 20.0
    toward_deg: float = 30.0
    bend: float = -0.01
    blur_px: float = 0.8
    light: float = 1.0
    noise: float = 0.02
    seed: int = 1


@dataclass(frozen=True)
class Rendered:
    """A picture, and the way from places on the mesh to its pixels."""

    mesh: Mesh
    taken: Taken
    picture: Image.Image = field(repr=False)

    def pixels(self, crossings: Array) -> Array:
        """Say where crossings are seen, given as numbers of wires from the middle."""
        before = self._points(crossings) @ _turned(self.taken).T + np.array(
            [0, 0, self.taken.distance_mm]
        )
        return _bent(self.taken, before[:, :2] / before[:, 2:])

    def apart_mm(self, first: tuple[float, float], second: tuple[float, float]) -> float:
        """Give the true straight distance between two crossings."""
        points = self._points(np.array([first, second], dtype=np.float64))
        return float(np.linalg.norm(points[1] - points[0]))

    def _points(self, crossings: Array) -> Array:
        places = _true_places(self.mesh, self.taken, crossings)
        return np.column_stack((places, _height(self.mesh, places)))


def look(mesh: Mesh, taken: Taken) -> Rendered:
    """Take a photo of mesh."""
    chance = np.random.default_rng(taken.seed)
    rays = _rays(taken)
    place = _on_surface(mesh, taken, rays, 0.0)
    rock_at = _on_surface(mesh, taken, rays, BEHIND_MM)
    rough = _rough(taken, chance)
    rock = _rock(rock_at, rough)
    wires, shine, rust = _wires(mesh, taken, place, rough)
    shadow = _wires(mesh, taken, rock_at + np.array([9.0, 14.0]), rough)[0]
    rock = rock * (1 - 0.6 * gaussian_filter(shadow, 2.5))[..., None]
    metal = (1 - rust)[..., None] * np.array([0.62, 0.63, 0.64]) + rust[..., None] * np.array(
        [0.42, 0.24, 0.13]
    )
    scene = rock * (1 - wires)[..., None] + (metal * shine[..., None]) * wires[..., None]
    scene = _plates(mesh, place, scene)
    return Rendered(mesh, taken, _exposed(taken, scene, chance))


def _turned(taken: Taken) -> Array:
    tilt, toward = np.radians(taken.tilt_deg), np.radians(taken.toward_deg)
    about = np.array([[np.cos(toward), -np.sin(toward), 0],
                      [np.sin(toward), np.cos(toward), 0], [0, 0, 1]])  # fmt: skip
    over = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)],
                     [0, np.sin(tilt), np.cos(tilt)]])  # fmt: skip
    turned: Array = about @ over @ about.T
    return turned


def _bent(taken: Taken, straight: Array) -> Array:
    """Give pixels of directions, through a lens that bends."""
    size = np.array(taken.size_px)
    out = straight * taken.focal * size[0]
    far = (out**2).sum(axis=-1, keepdims=True) / (np.hypot(*size) / 2) ** 2
    bent: Array = out * (1 + taken.bend * far) + size / 2
    return bent


def _rays(taken: Taken) -> Array:
    """Give the direction of each pixel, the bend taken out again."""
    wide, high = taken.size_px
    x, y = np.meshgrid(np.arange(wide) + 0.5, np.arange(high) + 0.5)
    out = np.stack((x - wide / 2, y - high / 2), axis=-1)
    straight = out.copy()
    for _ in range(3):
        far = (straight**2).sum(axis=-1, keepdims=True) / (np.hypot(wide, high) / 2) ** 2
        straight = out / (1 + taken.bend * far)
    straight = straight / (taken.focal * wide)
    return np.concatenate((straight, np.ones((high, wide, 1))), axis=-1)


def _on_surface(mesh: Mesh, taken: Taken, rays: Array, behind_mm: float) -> Array:
    """Follow each ray to the mesh, or to the rock behind it."""
    turned = _turned(taken)
    stand = turned.T @ np.array([0, 0, -taken.distance_mm])
    ways = rays @ turned
    high = np.zeros(rays.shape[:2])
    for _ in range(STEPS):
        far = (high + behind_mm - stand[2]) / ways[..., 2]
        place = stand[:2] + ways[..., :2] * far[..., None]
        high = _height(mesh, place)
    found: Array = place
    return found


def _height(mesh: Mesh, place: Array) -> Array:
    """Give how far behind its plates' plane the mesh is: it sags toward the camera between."""
    wave = np.cos(2 * np.pi * place / mesh.bolts_mm)
    sagged: Array = mesh.sag_mm / 4 * (wave.sum(axis=-1) - 2)
    return sagged


def _true_places(mesh: Mesh, taken: Taken, crossings: Array) -> Array:
    """Give where crossings are, with the bends of their wires."""
    cos, sin = np.cos(mesh.turned), np.sin(mesh.turned)
    along = crossings * np.array(mesh.pitch_mm)
    along = along + _bends(mesh, taken, along)
    places: Array = along @ np.array([[cos, sin], [-sin, cos]])
    return places


def _bends(mesh: Mesh, taken: Taken, along: Array) -> Array:
    phase = np.random.default_rng(taken.seed + 99).uniform(0, 2 * np.pi, 4)
    first = np.sin(along[..., 1] / 170 + phase[0]) + np.sin(along[..., 0] / 310 + phase[1])
    second = np.sin(along[..., 0] / 190 + phase[2]) + np.sin(along[..., 1] / 280 + phase[3])
    bends: Array = mesh.bent_mm * np.stack((first, second), axis=-1) / 2
    return bends


def _wires(mesh: Mesh, taken: Taken, place: Array, rough: Array) -> tuple[Array, Array, Array]:
    """Give how much of each pixel is wire, how it shines, and how rusty it is."""
    cos, sin = np.cos(mesh.turned), np.sin(mesh.turned)
    along = place @ np.array([[cos, -sin], [sin, cos]])
    along = along - _bends(mesh, taken, along)
    pitch, radius = np.array(mesh.pitch_mm), mesh.wire_mm / 2
    off = np.abs(along - pitch * np.round(along / pitch))
    pixel_mm = taken.distance_mm / (taken.focal * taken.size_px[0])
    cover = np.clip((radius - off) / pixel_mm + 0.5, 0, 1)
    wires = cover.max(axis=-1)
    shine = 0.35 + 0.65 * np.sqrt(np.clip(1 - (off.min(axis=-1) / radius) ** 2, 0, 1))
    for hole in [mesh.tear_mm] if mesh.tear_mm else []:
        wires = wires * (1 - _inside(hole, place))
    rust = np.clip(mesh.rust + 1.5 * (rough - 0.5), 0, 1)
    return wires, shine, rust


def _inside(corners: tuple[tuple[float, float], ...], place: Array) -> Array:
    inside = np.zeros(place.shape[:2], dtype=bool)
    ends = np.array(corners)
    for (x1, y1), (x2, y2) in zip(ends, np.roll(ends, -1, axis=0), strict=True):
        between = (y1 > place[..., 1]) != (y2 > place[..., 1])
        with np.errstate(divide="ignore", invalid="ignore"):
            at = (x2 - x1) * (place[..., 1] - y1) / (y2 - y1) + x1
        inside ^= between & (place[..., 0] < at)
    return inside.astype(np.float64)


def _plates(mesh: Mesh, place: Array, scene: Array) -> Array:
    """Put a plate with its bolt where each hangs: on every corner of a bay."""
    off = place - mesh.bolts_mm * np.round(place / mesh.bolts_mm)
    far = np.abs(off).max(axis=-1)
    plate = (far < 75)[..., None]
    round_off = np.hypot(off[..., 0], off[..., 1])
    dome = 0.45 + 0.25 * np.cos(np.clip(round_off / 45, 0, np.pi)) + 0.1 * (off[..., 1] < 0)
    nut = (round_off < 14)[..., None]
    steel = np.array([0.5, 0.48, 0.45]) * dome[..., None]
    plated: Array = np.where(nut, 0.25, np.where(plate, steel, scene))
    return plated


def _rough(taken: Taken, chance: np.random.Generator) -> Array:
    """Make rough noise of several sizes, 0 to 1."""
    wide, high = taken.size_px
    rough = np.zeros((high, wide))
    for size in (4, 9, 21, 60, 170):
        coarse = chance.random((size * high // wide + 3, size + 3))
        fine = zoom(coarse, (high / (coarse.shape[0] - 2), wide / (coarse.shape[1] - 2)), order=1)
        rough += fine[:high, :wide] / size**0.6
    spread: Array = (rough - rough.min()) / np.ptp(rough)
    return spread


def _rock(place: Array, rough: Array) -> Array:
    """Light rough rock from where the lamp is."""
    slope = np.gradient(gaussian_filter(rough, 1.5))[0] * 60
    grey = np.clip(0.16 + 0.2 * rough + 0.35 * slope, 0.02, 0.6)
    cracks = np.abs(np.sin((place[..., 0] * 0.7 + place[..., 1]) / 260 + 6 * rough)) < 0.04
    grey = np.where(cracks, 0.05, grey)
    rock: Array = grey[..., None] * np.array([1.0, 0.93, 0.85])
    return rock


def _exposed(taken: Taken, scene: Array, chance: np.random.Generator) -> Image.Image:
    """Light it by a cap lamp, blur it, and let the sensor be noisy."""
    wide, high = taken.size_px
    x, y = np.meshgrid(np.arange(wide) / wide - 0.46, (np.arange(high) - 0.47 * high) / wide)
    lamp = 0.25 + 1.1 * np.exp(-(x**2 + y**2) / 0.09)
    lit = scene * (lamp * taken.light)[..., None]
    lit = gaussian_filter(lit, (taken.blur_px, taken.blur_px, 0))
    lit = lit + chance.normal(0, 1, lit.shape) * taken.noise * np.sqrt(np.clip(lit, 0.02, 1))
    shown = np.clip(lit, 0, 1) ** (1 / 2.2)
    return Image.fromarray((shown * 255).astype(np.uint8))
