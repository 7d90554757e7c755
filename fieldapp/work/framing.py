"""Proposing a frame on a photo of welded mesh; a person looks at it before it measures."""

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from fieldapp.work.photo_file import upright
from schemas.numbers import rounded
from schemas.taps import MeshFrame
from schemas.trouble import BadInput

STEP_PX = Decimal("0.1")
_LAMP = "#FFD166"
_MEASURES = "#7CC0FF"


@dataclass(eq=False)
class NoMeshFound(BadInput):
    """No welded mesh is seen well enough to propose a frame."""

    name: str

    happened = "No mesh was found in {name}."
    kept = "The file was left as it is, and nothing was changed."
    do_next = "Tap four crossings yourself, or go nearer and take the photo again."


@dataclass(frozen=True)
class Framed:
    """A proposed frame, and the photo with the frame drawn on it, to be looked at."""

    frame: MeshFrame
    crossings: int
    """How many crossings the mesh was known by."""
    picture: Image.Image


def framed(
    path: Path, pitch_across_mm: Decimal, pitch_along_mm: Decimal, *, dark: bool = False
) -> Framed:
    """Find the mesh in a photo, whose wires are lighter or darker than what is behind them.

    Raises
    ------
    NoPhoto
        It is no photo that can be used.
    NoMeshFound
        No lattice of wires is seen in it.
    """
    from fieldapp.assess.photo.lattice import proposed_frame

    picture = upright(path)
    found = proposed_frame(np.asarray(picture.convert("L")), dark=dark)
    if found is None:
        raise NoMeshFound(path.name)
    corners = tuple(
        (rounded(float(x), STEP_PX), rounded(float(y), STEP_PX)) for x, y in found.corners_px
    )
    frame = MeshFrame(
        kind="mesh",
        corners_px=corners,
        openings_across=found.across,
        openings_along=found.along,
        pitch_across_mm=pitch_across_mm,
        pitch_along_mm=pitch_along_mm,
    )
    _draw(picture, found.corners_px, found.crossings_px)
    return Framed(frame, len(found.crossings_px), picture)


def _draw(picture: Image.Image, corners: np.ndarray, crossings: np.ndarray) -> None:
    pen, wide = ImageDraw.Draw(picture), max(picture.width // 500, 2)
    for x, y in crossings:
        pen.ellipse((x - 3 * wide, y - 3 * wide, x + 3 * wide, y + 3 * wide), outline=_MEASURES)
    pen.polygon([(float(x), float(y)) for x, y in corners], outline=_LAMP, width=wide)
