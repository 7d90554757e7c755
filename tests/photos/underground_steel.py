"""Steel before rendered rock: welded mesh, its torn wires, plates with bars."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray

Grey = NDArray[Any]
"""One number a pixel, or three."""
Point = tuple[float, float]
WIDE, HIGH = 1_440, 1_080
PX_PER_MM: Final = 0.72
PITCH_MM: Final = 100.0
WIRE_MM: Final = 5.6
STEEL: Final = np.array([0.46, 0.47, 0.48])
TOGETHER_PX: Final = 18
RUST: Final = np.array([0.30, 0.125, 0.05])


@dataclass(frozen=True)
class Damage:
    """What is in the picture. Places are parts of its width and height."""

    name: str
    seed: int
    hole: tuple[Point, ...] = ()
    rust: float = 0.2
    bag_px: float = 30.0
    plates: tuple[Point, ...] = ((0.14, 0.2), (0.9, 0.16), (0.85, 0.9))
    light: float = 1.0
    noise: float = 0.010
    blur_px: float = 0.9
    wet: float = 0.3
    askew: float = 0.12


def cloud(chance: np.random.Generator, slope: float, stretch: float = 1.0) -> Grey:
    """Give noise of every size, the larger the stronger, −1 to 1 in most places."""
    down, across = np.fft.fftfreq(HIGH)[:, None], np.fft.rfftfreq(WIDE)[None]
    size = np.hypot(down * stretch, across) + 1 / WIDE
    spectrum = np.fft.rfft2(chance.standard_normal((HIGH, WIDE))) / size**slope
    cloud = np.fft.irfft2(spectrum, s=(HIGH, WIDE))
    found: Grey = (cloud - cloud.mean()) / (2 * cloud.std())
    return found


class Mesh:
    """Welded mesh over the rock: where it runs, how far it stands off, where it is torn."""

    def __init__(self, damage: Damage, chance: np.random.Generator) -> None:
        y, x = np.mgrid[0:HIGH, 0:WIDE].astype(np.float64)
        middle = (0.5 + chance.uniform(-0.06, 0.06), 0.6)
        far = np.hypot((x / WIDE - middle[0]) / 0.42, (y / HIGH - middle[1]) / 0.45)
        self.off_px = damage.bag_px * np.exp(-(far**2)) + 16 + 7 * cloud(chance, 2.4)
        bulge_down, bulge_across = np.gradient(cv2.GaussianBlur(self.off_px, (0, 0), 30))
        pull = 0.9 * damage.bag_px
        self.u = x + 7 * cloud(chance, 2.6) + pull * bulge_across
        self.v = y + 7 * cloud(chance, 2.6) + pull * bulge_down + 0.06 * x
        self.pitch = PITCH_MM * PX_PER_MM
        self.radius = WIRE_MM * PX_PER_MM / 2
        corners = np.array([(a * WIDE, b * HIGH) for a, b in damage.hole], np.int32)
        hole = np.zeros((HIGH, WIDE), np.uint8)
        if damage.hole:
            cv2.fillPoly(hole, [corners], 1)
        self.hole = hole
        self.rust = np.clip(damage.rust + 0.55 * cloud(chance, 1.0), 0, 1)
        self.chance = chance

    def cover(self) -> tuple[Grey, Grey]:
        """Give how much of each pixel is wire, and how the wire is lit across."""
        cover, light = np.zeros((HIGH, WIDE)), np.zeros((HIGH, WIDE))
        for number, at in enumerate((self.v, self.u)):
            off = at - self.pitch * np.round(at / self.pitch)
            here = np.clip(self.radius + 0.5 - np.abs(off), 0, 1)
            turn = np.clip(off / self.radius, -1, 1)
            toward = 0.55 if number == 0 else 0.2  # the lamp is above: it lights what lies across
            shine = 0.32 + 0.75 * np.clip(np.sqrt(1 - turn**2) * 0.8 - toward * turn, 0, 1)
            light = np.where(
                here > 0.5, shine, np.maximum(light, shine * (here > 0) * (cover < 0.5))
            )
            cover = np.maximum(cover, here)
        return cover * (1 - self.hole), light

    def stubs(self) -> Iterator[tuple[Grey, float]]:
        """Yield the wires that were torn: lines that bend out of the hole, and how bright."""
        rim = cv2.dilate(self.hole, np.ones((5, 5), np.uint8)) - self.hole
        for at in (self.u, self.v):
            off = np.abs(at - self.pitch * np.round(at / self.pitch))
            for end in _apart(np.argwhere((off < 1.0) & (rim > 0))[:, ::-1]):
                yield self._bent(end), float(self.chance.uniform(0.45, 1.0))

    def _bent(self, end: Grey) -> Grey:
        ys, xs = np.nonzero(self.hole)
        middle = np.array([xs.mean(), ys.mean()])
        way = middle - end
        way = way / np.linalg.norm(way)
        drop = np.array([self.chance.normal(0, 0.5), self.chance.uniform(0.1, 1.1)])
        long = self.chance.uniform(0.25, 0.95) * self.pitch
        part = np.linspace(0, 1, 14)[:, None]
        line: Grey = end + long * (part * way + part**2 * drop)
        return line


def _apart(places: Grey) -> list[Grey]:
    """Give one of the places that lie together."""
    taken: list[Grey] = []
    for place in places:
        if all(np.hypot(*(place - it)) > TOGETHER_PX for it in taken):
            taken.append(place)
    return taken


def hung(rock: Grey, mesh: Mesh, damage: Damage, chance: np.random.Generator) -> Grey:
    """Hang the mesh before the rock: its shadow falls down and to the right of it."""
    cover, light = mesh.cover()
    stubs = list(mesh.stubs()) if damage.hole else []
    torn = _drawn([line for line, _ in stubs], mesh.radius)
    y, x = np.mgrid[0:HIGH, 0:WIDE].astype(np.float32)
    far = mesh.off_px.astype(np.float32)
    both = np.maximum(cover, torn).astype(np.float32)
    shade = cv2.remap(both, x - 0.22 * far, y - 0.55 * far, cv2.INTER_LINEAR)
    shade = np.maximum(
        cv2.GaussianBlur(shade, (0, 0), 1.6), 0.7 * cv2.GaussianBlur(shade, (0, 0), 4)
    )
    scene: Grey = rock * (1 - 0.8 * shade)[..., None]
    if damage.hole:
        raw = cv2.GaussianBlur(mesh.hole.astype(np.float64), (0, 0), 9)[..., None]
        scene = scene * (1 - 0.12 * raw)
    rust = mesh.rust[..., None]
    grain = (1 + 0.16 * cloud(chance, 0.5))[..., None]
    metal = (STEEL * (1 - rust) + RUST * rust) * grain
    scene = scene * (1 - cover)[..., None] + (metal * light[..., None]) * cover[..., None]
    for line, bright in stubs:
        one = _drawn([line], mesh.radius)[..., None]
        core = _drawn([line - [0.4, 0.7]], mesh.radius * 0.45)[..., None]
        scene = scene * (1 - one) + metal * (0.5 * bright) * one + 0.5 * bright * core * metal
    return scene


def _drawn(lines: list[Grey], radius_px: float) -> Grey:
    """Draw lines as wide as wires, smooth at their edges."""
    fine = 4
    drawn = np.zeros((HIGH * fine, WIDE * fine), np.uint8)
    wide = max(1, round(2 * radius_px * fine))
    for line in lines:
        points = np.round(line * fine).astype(np.int32)
        cv2.polylines(drawn, [points], isClosed=False, color=255, thickness=wide)
    smooth: Grey = cv2.resize(drawn, (WIDE, HIGH), interpolation=cv2.INTER_AREA) / 255.0
    return smooth


def plated(scene: Grey, damage: Damage, chance: np.random.Generator) -> Grey:
    """Bolt plates on the mesh: dished, with a nut and the end of a bar."""
    for place in damage.plates:
        scene = _plate(scene, (place[0] * WIDE, place[1] * HIGH), damage.rust, chance)
    return scene


def _plate(scene: Grey, middle: Point, rust: float, chance: np.random.Generator) -> Grey:
    turn, half = chance.uniform(-0.4, 0.4), 75 * PX_PER_MM
    y, x = np.mgrid[0:HIGH, 0:WIDE]
    along = (x - middle[0]) * np.cos(turn) + (y - middle[1]) * np.sin(turn)
    across = -(x - middle[0]) * np.sin(turn) + (y - middle[1]) * np.cos(turn)
    edge = np.maximum(np.abs(along), np.abs(across))
    round_off = np.hypot(along, across)
    dome = 34 * np.exp(-((round_off / (0.42 * half)) ** 2))
    nut = (np.abs(along) < 11) & (np.abs(across) < 11) & (np.abs(along) + np.abs(across) < 16)
    dome = dome + 20 * nut + 22 * (round_off < 5.5) + 0.7 * cloud(chance, 0.9)
    down, right = np.gradient(cv2.GaussianBlur(dome, (0, 0), 0.9))
    face = np.clip(0.62 + 0.5 * down + 0.18 * right, 0.08, 1.5)
    worn = np.clip(rust + 0.1 + 0.5 * cloud(chance, 1.1), 0, 1)[..., None]
    steel = (0.8 * STEEL * (1 - worn) + 1.15 * RUST * worn) * face[..., None]
    cover = np.clip(half - edge + 0.5, 0, 1)
    shade = cv2.GaussianBlur(np.roll(cover, (9, 4), axis=(0, 1)), (0, 0), 4)
    scene = scene * (1 - 0.75 * shade * (1 - cover))[..., None]
    plated: Grey = scene * (1 - cover)[..., None] + steel * cover[..., None]
    return plated
