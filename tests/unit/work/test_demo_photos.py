"""The demo's photographs: small, whole, upright, and nothing in them but the picture."""

import pytest
from PIL import Image

from fieldapp.work.photo.file import photo_read
from tests.photos.underground import FOLDER, RENDERED
from tests.photos.underground_steel import HIGH, WIDE

LARGEST_BYTES = 300_000


@pytest.mark.parametrize("name", [it.name for it in RENDERED])
def test_a_photograph_of_the_demo_can_be_kept(name: str) -> None:
    path = FOLDER / f"{name}.jpg"
    read = photo_read(path)

    assert path.stat().st_size <= LARGEST_BYTES
    assert (read.media_type, read.taken) == ("image/jpeg", None)
    assert (read.facts.width_px, read.facts.height_px) == (WIDE, HIGH)
    assert read.content == path.read_bytes()
    with Image.open(path) as picture:
        assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_every_photograph_is_one_that_is_rendered() -> None:
    assert {it.stem for it in FOLDER.iterdir()} == {it.name for it in RENDERED}
