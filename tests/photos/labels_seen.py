"""Photographs of labels under ground, rendered: how far, how askew, blurred, dirty and dark.

A label is a real printed one (`fieldapp.report.label.labels`), screwed to grey rock and lit by a
cap lamp; the camera is a telephone's, 4000 × 3000 pixels as wide as 65°. Everything follows from
the seed.
"""

from dataclasses import dataclass
from functools import cache
from io import BytesIO
from math import cos, radians, sin, tan
from pathlib import Path
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from fieldapp.report.label.form import A4_FORM, PHOTO_WIDE_DEG, PHOTO_WIDE_PX, LabelForm
from fieldapp.report.label.labels import PX_PER_MM, Label, labels_png
from schemas.short_id import ShortId

CODE: Final = ShortId("7K3Q9XTR", "damage")
Pixels = NDArray[Any]
"""Brightness, 0 to 255; of a mirror more."""
_ROCK: Final = 90.0


@dataclass(frozen=True)
class View:
    """How a label is seen. Lengths in metres and millimetres, blur in pixels of the photo."""

    away_m: float = 1.0
    tilt_deg: float = 0.0
    blur_px: float = 0.0
    """Standard width of a blur out of focus."""
    smear_px: float = 0.0
    """Length of a smear by a hand that moved."""
    noise: float = 3.0
    """Of 255, before the camera brightens what is dark."""
    light: float = 1.0
    """Share of what a good exposure needs."""
    mud_on: tuple[str, ...] = ()
    """Corners of codes under a lump of mud: "left" and "right" are the two codes."""
    glare_on: tuple[str, ...] = ()
    """Codes in the middle of which the lamp is mirrored."""

    @property
    def words(self) -> str:
        """Say it as the table does."""
        plain = View()
        said = [f"{self.away_m:g} m"]
        for name, words in _SAID.items():
            value = getattr(self, name)
            if value != getattr(plain, name):
                shown = " and ".join(value) if isinstance(value, tuple) else f"{value:g}"
                said.append(words.format(shown))
        return ", ".join(said)


_SAID: Final = {
    "tilt_deg": "{}° askew",
    "blur_px": "out of focus by {} px",
    "smear_px": "moved by {} px",
    "noise": "noise {}",
    "light": "light × {}",
    "mud_on": "mud on a corner, {}",
    "glare_on": "glare, {}",
}


@cache
def _label(form: LabelForm) -> Pixels:
    """Give one label, cut out, as it was printed."""
    label = Label(CODE, "Damage: torn mesh", "1385 Main · 608.3 m", "seen 6 May 2031")
    page = np.asarray(Image.open(BytesIO(labels_png([label], form)[0])).convert("L"))
    left, top = (round(it * PX_PER_MM) for it in form.corner(0))
    wide, high = round(form.wide_mm * PX_PER_MM), round(form.high_mm * PX_PER_MM)
    return page[top : top + high, left : left + wide].astype(np.float32)


def photographed(view: View, seed: int, wide_px: int = PHOTO_WIDE_PX) -> Image.Image:
    """Take the photograph of a label, with a camera of so many pixels across."""
    dice = np.random.default_rng((4155, seed))
    shrunk = wide_px / PHOTO_WIDE_PX
    paper = _dirty(_label(A4_FORM), view, dice)
    wide, high = wide_px, wide_px * 3 // 4
    seen = _rock((high, wide), dice)
    paper, fit = _finer_down(paper, view, wide_px)
    place = _homography(paper.shape[:2], fit, view, (wide, high), dice)
    sharp = cv2.warpPerspective(paper, place, (wide, high), flags=cv2.INTER_AREA)
    covers = cv2.warpPerspective(np.ones_like(paper), place, (wide, high))
    seen = seen * (1 - covers) + sharp * covers
    seen = _out_of_focus(seen, view, shrunk, dice)
    return Image.fromarray(_exposed(seen, view, dice))


def write(view: View, seed: int, folder: Path, wide_px: int = PHOTO_WIDE_PX) -> Path:
    """Write the photograph as a camera does, a JPEG."""
    path = folder / f"label-{seed}.jpg"
    photographed(view, seed, wide_px).save(path, "JPEG", quality=88)
    return path


def _finer_down(paper: Pixels, view: View, wide_px: int) -> tuple[Pixels, float]:
    """Shrink what is printed far finer than it is seen: a pixel sees all that lies in it."""
    px_per_mm = wide_px / (2_000 * view.away_m * tan(radians(PHOTO_WIDE_DEG / 2)))
    share = min(1.0, 2 * px_per_mm / PX_PER_MM)
    size = (round(paper.shape[1] * share), round(paper.shape[0] * share))
    return cv2.resize(paper, size, interpolation=cv2.INTER_AREA), PX_PER_MM * share


def _homography(
    shape: tuple[int, int],
    px_per_mm: float,
    view: View,
    size: tuple[int, int],
    dice: np.random.Generator,
) -> NDArray[np.float64]:
    """Give the map from the label's pixels to the photo's: a pinhole camera, turned about."""
    high, wide = shape
    tilt, roll = radians(view.tilt_deg), dice.uniform(-0.12, 0.12)
    about = dice.uniform(0, 2 * np.pi)
    axis = np.array([cos(about), sin(about), 0.0]) * tilt
    turn = cv2.Rodrigues(axis)[0] @ cv2.Rodrigues(np.array([0.0, 0.0, roll]))[0]
    focal = size[0] / (2 * tan(radians(PHOTO_WIDE_DEG / 2)))
    aside = dice.uniform(-0.08, 0.08, 2) * view.away_m
    to_mm = np.array(
        [
            [1 / px_per_mm, 0, -wide / px_per_mm / 2],
            [0, 1 / px_per_mm, -high / px_per_mm / 2],
            [0, 0, 1],
        ]
    )
    stand = np.column_stack([turn[:, 0], turn[:, 1], [*(aside * 1000), view.away_m * 1000]])
    lens = np.array([[focal, 0, size[0] / 2], [0, focal, size[1] / 2], [0, 0, 1.0]])
    found: NDArray[np.float64] = lens @ stand @ to_mm
    return found


def _code_mm(side: str) -> tuple[float, float, float]:
    """Give the left, top and side of a code's dark square on the label."""
    symbol, quiet = 1.8 * 25, 1.8 * 4
    left = 2.0 + quiet if side == "left" else A4_FORM.wide_mm - 2.0 - quiet - symbol
    return left, (A4_FORM.high_mm - symbol) / 2, symbol


def _dirty(paper: Pixels, view: View, dice: np.random.Generator) -> Pixels:
    dirty = paper.copy()
    for side in view.mud_on:
        left, top, symbol = _code_mm(side)
        corners = ((0.14, 0.14), (0.86, 0.14), (0.14, 0.86))
        across, down = corners[dice.integers(3)]
        _splash(dirty, (left + across * symbol, top + down * symbol), symbol * 0.2, 45.0, dice)
    for side in view.glare_on:
        left, top, symbol = _code_mm(side)
        middle = (left + symbol * dice.uniform(0.3, 0.7), top + symbol * dice.uniform(0.3, 0.7))
        _splash(dirty, middle, symbol * 0.35, 400.0, dice)
    return dirty


def _splash(
    paper: Pixels,
    at_mm: tuple[float, float],
    size_mm: float,
    tone: float,
    dice: np.random.Generator,
) -> None:
    x, y = (round(it * PX_PER_MM) for it in at_mm)
    axes = tuple(round(size_mm * PX_PER_MM * dice.uniform(0.8, 1.1)) for _ in range(2))
    cv2.ellipse(paper, (x, y), axes, dice.uniform(0, 180), 0, 360, tone, -1)


def _rock(shape: tuple[int, int], dice: np.random.Generator) -> Pixels:
    rough = dice.normal(_ROCK, 30, (shape[0] // 16, shape[1] // 16)).astype(np.float32)
    return cv2.resize(rough, (shape[1], shape[0]), interpolation=cv2.INTER_CUBIC)


def _out_of_focus(seen: Pixels, view: View, shrunk: float, dice: np.random.Generator) -> Pixels:
    blur = float(np.hypot(view.blur_px * shrunk, 0.6))  # no lens is perfect
    seen = cv2.GaussianBlur(seen, (0, 0), blur)
    length = round(view.smear_px * shrunk)
    if length > 1:
        way = dice.uniform(0, np.pi)
        kernel = np.zeros((2 * length + 1,) * 2, np.float32)
        reach = (length / 2 * cos(way), length / 2 * sin(way))
        one, other = ([round(length - a * it) for it in reach] for a in (1, -1))
        cv2.line(kernel, one, other, 1.0)
        seen = cv2.filter2D(seen, -1, kernel / kernel.sum())
    return seen


def _exposed(seen: Pixels, view: View, dice: np.random.Generator) -> Pixels:
    """Light it by a lamp that falls off to the sides, and let the camera brighten what is dark."""
    high, wide = seen.shape
    down, across = np.ogrid[-1 : 1 : high * 1j, -1 : 1 : wide * 1j]
    middle = dice.uniform(-0.3, 0.3, 2)
    lamp = np.exp(-((across - middle[0]) ** 2 + (down - middle[1]) ** 2) / 1.2).astype(np.float32)
    lit = seen * (0.25 + 0.75 * lamp) * view.light
    lit += dice.standard_normal(lit.shape, dtype=np.float32) * view.noise
    exposed: Pixels = (lit / view.light).clip(0, 255).astype(np.uint8)
    return exposed


VIEWS: Final = (
    *(View(away_m=it) for it in (0.5, 1.0, 2.0, 2.5, 3.0)),
    *(View(tilt_deg=it) for it in (30.0, 45.0, 60.0)),
    View(away_m=2.0, tilt_deg=45.0),
    *(View(blur_px=it) for it in (2.0, 3.0, 4.0)),
    View(away_m=0.5, blur_px=6.0),
    View(away_m=2.0, blur_px=1.5),
    *(View(smear_px=it) for it in (6.0, 12.0)),
    View(noise=25.0),
    View(light=0.1),
    View(light=0.05),
    View(away_m=2.0, light=0.1),
    View(mud_on=("left",)),
    View(mud_on=("left", "right")),
    View(glare_on=("left",)),
    View(glare_on=("left", "right")),
    View(away_m=1.5, tilt_deg=30.0, blur_px=1.0, light=0.3, mud_on=("right",)),
)
"""Each a line of the table."""
