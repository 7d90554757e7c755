"""Photographs of damage for the demo mine, rendered to look as a telephone takes them.

Jointed rock, lit by a cap lamp from above the camera; welded mesh that bags over it and throws
a shadow; a hole with its wires bent out; plates with bars. Then what a lens and a sensor do:
blur, a dark rim, noise, dust in the beam. `python3 -m tests.photos.underground` writes them
again into `assets/demo/photos`.
"""

from pathlib import Path
from typing import Final

import cv2
import numpy as np
from PIL import Image
from scipy.spatial import cKDTree

from tests.photos.underground_steel import HIGH, WIDE, Damage, Grey, Mesh, cloud, hung, plated

FOLDER: Final = Path(__file__).parents[2] / "assets/demo/photos"
GREY: Final = np.array([1.0, 0.95, 0.88])
BROWN: Final = np.array([1.12, 0.93, 0.72])

SHOWN: Final = (
    Damage(
        "torn-mesh",
        seed=11,
        hole=((0.33, 0.42), (0.45, 0.3), (0.6, 0.34), (0.68, 0.5), (0.6, 0.68), (0.42, 0.66)),
    ),
    Damage("rusted-mesh", seed=23, rust=0.85, bag_px=18, wet=0.8, light=0.75, noise=0.016),
    Damage(
        "bagged-mesh",
        seed=37,
        rust=0.35,
        bag_px=95,
        light=0.85,
        blur_px=1.5,
        noise=0.02,
        plates=((0.1, 0.12), (0.93, 0.2), (0.12, 0.9), (0.9, 0.88)),
        askew=0.2,
    ),
)

MENDED: Final = Damage(
    "mended-mesh",
    seed=52,
    rust=0.05,
    bag_px=12,
    plates=((0.16, 0.2), (0.84, 0.18), (0.15, 0.84), (0.86, 0.82)),
)
"""As a crew leaves it: new mesh, held by four plates."""
RENDERED: Final = (*SHOWN, MENDED)


def photograph(damage: Damage) -> Grey:
    """Take the photo: bytes of red, green and blue."""
    chance = np.random.default_rng(damage.seed)
    rock, high = _rock(chance)
    wires = Mesh(damage, chance)
    lit = _lit(rock, high, damage.wet, chance)
    lit = hung(lit, wires, damage, chance)
    lit = plated(lit, damage, chance)
    return _taken(_askew(lit, damage), damage, chance)


def _rock(chance: np.random.Generator) -> tuple[Grey, Grey]:
    """Give the colour of the rock and its height: blocks between joints, rough on their faces."""
    y, x = np.mgrid[0:HIGH, 0:WIDE].astype(np.float64)
    x, y = x + 60 * cloud(chance, 1.4), (y + 60 * cloud(chance, 1.4)) * 1.3
    high, seam = np.zeros((HIGH, WIDE)), np.zeros((HIGH, WIDE))
    for blocks, deep in ((26, 1.0), (120, 0.45), (700, 0.16)):
        seeds = chance.uniform((-100, -100), (WIDE + 100, HIGH * 1.3 + 100), (blocks, 2))
        near = cKDTree(seeds).query(np.stack((x, y), axis=-1), k=2)
        far, which = (np.asarray(it) for it in near)
        tilt = chance.normal(0, 0.55 * deep, (blocks, 2))
        at = which[..., 0]
        off_x, off_y = x - seeds[at, 0], y - seeds[at, 1]
        high += tilt[at, 0] * off_x + tilt[at, 1] * off_y + chance.normal(0, 26 * deep, blocks)[at]
        seam += deep * np.exp(-(far[..., 1] - far[..., 0]) / (5 * deep + 1.5))
    high += 34 * cloud(chance, 1.75) + 3.0 * cloud(chance, 0.9) - 16 * seam
    tone = 0.20 + 0.055 * cloud(chance, 1.1) + 0.02 * cloud(chance, 0.6)
    warm = np.clip(0.5 + 0.8 * cloud(chance, 1.6), 0, 1)[..., None]
    colour = tone[..., None] * (GREY * (1 - warm) + BROWN * warm)
    stain = np.clip(cloud(chance, 1.5, 0.25) - 0.55, 0, 0.8)[..., None]
    colour = colour * (1 - 0.5 * stain) + stain * np.array([0.13, 0.06, 0.025])
    return colour * (1 - 0.72 * np.clip(seam, 0, 1))[..., None], high


def _lit(colour: Grey, high: Grey, wet: float, chance: np.random.Generator) -> Grey:
    """Light the rock from above the camera; water on it mirrors the lamp."""
    smooth = cv2.GaussianBlur(high, (0, 0), 0.8)
    down, across = np.gradient(smooth)
    normal = np.dstack((-across, -down, np.full_like(high, 1.1)))
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    y, x = np.mgrid[0:HIGH, 0:WIDE]
    lamp = np.dstack((WIDE * 0.44 - x, -HIGH * 0.22 - y, np.full((HIGH, WIDE), 1_000.0)))
    lamp /= np.linalg.norm(lamp, axis=-1, keepdims=True)
    eye = np.array([0.0, 0.0, 1.0])
    half = (lamp + eye) / np.linalg.norm(lamp + eye, axis=-1, keepdims=True)
    face = np.clip((normal * lamp).sum(axis=-1), 0.0, 1)
    hollow = np.clip(1 + (smooth - cv2.GaussianBlur(smooth, (0, 0), 14)) / 26, 0.25, 1.25)
    damp = np.clip(cloud(chance, 1.5, 0.4) + wet - 0.5, 0, 1)
    mirror = damp * np.clip((normal * half).sum(axis=-1), 0, 1) ** 55
    lit: Grey = colour * ((0.1 + 1.35 * face) * hollow * (1 - 0.35 * damp))[..., None]
    lit += (0.45 * mirror)[..., None]
    return lit


def _askew(scene: Grey, damage: Damage) -> Grey:
    """Look at the wall from aside; what the frame would not fill is left out."""
    lean = damage.askew
    start = np.array([[0, 0], [WIDE, 0], [WIDE, HIGH], [0, HIGH]], np.float32)
    end = start + np.array(
        [[-0.05, -lean], [0.06, -0.06], [0.05, 0.07], [-0.08, lean]], np.float32
    ) * [WIDE, HIGH]
    turn = cv2.getPerspectiveTransform(start, end.astype(np.float32))
    seen: Grey = cv2.warpPerspective(scene, turn, (WIDE, HIGH), flags=cv2.INTER_CUBIC)
    return seen


def _taken(scene: Grey, damage: Damage, chance: np.random.Generator) -> Grey:
    y, x = np.mgrid[0:HIGH, 0:WIDE]
    far = np.hypot((x - WIDE * 0.48) / WIDE, (y - HIGH * 0.45) / WIDE)
    lamp = 0.03 + 1.9 * np.exp(-((far / 0.27) ** 2)) + 0.55 * np.exp(-((far / 0.6) ** 2))
    rim = 1 / (1 + (1.1 * far) ** 2) ** 2
    lit = np.clip(scene, 0, 4) * (2.3 * lamp * rim * damage.light)[..., None] * [1.0, 0.97, 0.9]
    lit = cv2.GaussianBlur(lit, (0, 0), damage.blur_px)
    lit = lit + 0.06 * cv2.GaussianBlur(np.clip(lit - 0.6, 0, 2), (0, 0), 25)
    lit = lit + _dust(chance) * damage.light
    grain = chance.standard_normal((HIGH, WIDE, 1)) + 0.6 * cv2.GaussianBlur(
        chance.standard_normal((HIGH, WIDE, 3)), (0, 0), 1.2
    )
    lit = lit + grain * damage.noise * np.sqrt(np.clip(lit, 0.01, 1) + 0.02)
    bright = np.clip(lit, 0, None)
    toned = bright * (1 + bright / 3.5) / (1 + bright)  # film's shoulder: light wires don't burn
    shown: Grey = (np.clip(toned, 0, 1) ** (1 / 2.2) * 255).round().astype(np.uint8)
    return shown


def _dust(chance: np.random.Generator) -> Grey:
    """Give the dust in the beam: a veil, and a few grains near the lens, out of focus."""
    grains: Grey = np.zeros((HIGH, WIDE))
    for _ in range(14):
        at = (int(chance.uniform(0, WIDE)), int(chance.uniform(0, HIGH)))
        cv2.circle(grains, at, int(chance.uniform(4, 13)), chance.uniform(0.01, 0.05), -1)
    grains = cv2.GaussianBlur(grains, (0, 0), 2.5)
    return (grains + 0.012 * (1 + cloud(chance, 1.8)))[..., None]


def write(folder: Path = FOLDER) -> None:
    """Write every photo as a camera does, a JPEG without anything beside the picture."""
    folder.mkdir(parents=True, exist_ok=True)
    for damage in RENDERED:
        picture = Image.fromarray(photograph(damage))
        picture.save(folder / f"{damage.name}.jpg", "JPEG", quality=74, optimize=True)


if __name__ == "__main__":
    write()
