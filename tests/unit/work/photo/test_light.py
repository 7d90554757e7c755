"""A dark photo is made lighter for the eye, and stays as it is everywhere else."""

import numpy as np
from PIL import Image

from fieldapp.work.photo.light import stretched


def in_little_light() -> Image.Image:
    """A picture that never gets lighter than a fifth of white, as under a weak lamp."""
    light = np.tile(np.linspace(2, 50, 100).astype(np.uint8), (60, 1))
    return Image.fromarray(np.stack((light, light, light // 2), axis=-1))


def test_what_was_dark_reaches_from_black_to_white() -> None:
    shown = np.asarray(stretched(in_little_light()).convert("L"))

    assert shown.min() < 20
    assert shown.max() > 200
    assert (np.diff(shown[0].astype(int)) >= 0).all(), "what was lighter stays lighter"


def test_the_picture_itself_is_left_as_it_was() -> None:
    dark = in_little_light()
    was = dark.tobytes()
    stretched(dark)

    assert dark.tobytes() == was


def test_a_picture_of_one_light_is_shown_all_the_same() -> None:
    assert stretched(Image.new("RGB", (9, 9), "#202020")).size == (9, 9)
