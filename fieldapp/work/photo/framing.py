"""Proposing a frame on a photo of welded mesh; a person looks at it before it measures."""

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from fieldapp.work.photo.file import upright
from schemas.numbers import rounded
from schemas.taps import Corners, MeshFrame, Point
from schemas.trouble import BadInput

STEP_PX = Decimal("0.1")


@dataclass(eq=False)
class NoMeshFound(BadInput):
    """No welded mesh is seen well enough to propose a frame."""

    name: str

    happened = "No mesh was found in {name}."
    kept = "The file was left as it is, and nothing was changed."
    do_next = "Tap four crossings yourself, or go nearer and take the photo again."


@dataclass(frozen=True)
class Framed:
    """A proposed frame, and every crossing that the mesh was known by, to be looked at."""

    frame: MeshFrame
    crossings_px: tuple[Point, ...]


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
    found = proposed_frame(light_of_wires(picture, dark=dark), dark=dark)
    if found is None:
        raise NoMeshFound(path.name)
    corners: Corners = tuple(map(_point, found.corners_px))  # type: ignore[assignment]
    frame = MeshFrame(
        kind="mesh",
        corners_px=corners,
        openings_across=found.across,
        openings_along=found.along,
        pitch_across_mm=pitch_across_mm,
        pitch_along_mm=pitch_along_mm,
    )
    return Framed(frame, tuple(map(_point, found.crossings_px)))


def light_of_wires(picture: Image.Image, *, dark: bool = False) -> NDArray[np.uint8]:
    """Give the light by which wires stand out most: red, which rust throws back and rock less.

    Wires that are darker than what is behind them are looked for in all light.
    """
    return np.asarray(picture.convert("L") if dark else picture.getchannel("R"))


def _point(at: np.ndarray) -> Point:
    return rounded(float(at[0]), STEP_PX), rounded(float(at[1]), STEP_PX)
