"""Kivy's instructions for quads, boxes of words and rings."""

from typing import Any

import numpy as np
from kivy.graphics import Color, InstructionGroup, Mesh, Rectangle
from kivy.graphics.texture import Texture

from fieldapp.ui.drive.strokes import Pixel, Quads

MOST_QUADS = 16_000
"""A Mesh counts its corners with 16 bits."""


def add_quads(group: InstructionGroup, quads: Quads, texture: Texture) -> None:
    """Put quads on the canvas, in as many meshes as their number asks for."""
    group.add(Color(1, 1, 1, 1))
    for start in range(0, len(quads), MOST_QUADS):
        part = np.ascontiguousarray(quads[start : start + MOST_QUADS])
        group.add(
            Mesh(
                vertices=part.reshape(-1).data,
                indices=_indices(len(part)).data,
                mode="triangles",
                texture=texture,
            )
        )


def add_words(group: InstructionGroup, texture: Texture, corner: Pixel, colour: Any) -> None:
    """Put words on the canvas, on whole pixels so that they stay sharp."""
    group.add(Color(*colour))
    corner = (round(corner[0]), round(corner[1]))
    group.add(Rectangle(texture=texture, size=texture.size, pos=corner))


def _indices(count: int) -> np.ndarray[tuple[int], np.dtype[np.uint16]]:
    two_triangles = np.array((0, 1, 2, 0, 2, 3), dtype=np.uint16)
    firsts = np.arange(count, dtype=np.uint16) * np.uint16(4)
    return (firsts[:, None] + two_triangles).reshape(-1)
