"""The mesh found by itself, in photos whose truth is known."""

import numpy as np
import pytest

from fieldapp.assess.photo.camera import Lens
from fieldapp.assess.photo.frame import mesh_frame
from fieldapp.assess.photo.lattice import proposed_frame
from fieldapp.assess.photo.measured import Picture, length_mm
from fieldapp.work.photo.measuring import doubts_of
from tests.photos.mesh_found import found_in, is_right, random_photo, without_mesh


@pytest.mark.parametrize("seed", [101, 104])
def test_a_frame_is_proposed_on_crossings_and_its_openings_are_counted_right(seed: int) -> None:
    photo = random_photo(seed)
    found = found_in(photo)

    assert found is not None
    assert is_right(photo, found)


def test_wires_darker_than_what_is_behind_them_are_found_when_asked_for() -> None:
    photo = random_photo(104)
    negative = 255 - np.asarray(photo.picture.convert("L"))
    found = proposed_frame(np.asarray(negative, dtype=np.uint8), dark=True)

    assert found is not None
    assert is_right(photo, found)


def test_the_shadows_of_wires_are_not_taken_for_mesh() -> None:
    """Rusty wires hardly show before the rock; their shadows are a sharper lattice."""
    grey = np.asarray(random_photo(205).picture.convert("L"))

    assert proposed_frame(grey) is None


def test_rusty_wires_in_little_light_are_found_by_the_red_that_rust_throws_back() -> None:
    photo = random_photo(205)
    found = found_in(photo)

    assert found is not None
    assert is_right(photo, found)


def test_what_is_measured_by_it_is_true_within_what_is_stated() -> None:
    photo = random_photo(104)
    found = found_in(photo)
    assert found is not None
    frame = mesh_frame(found.corners_px, found.across, found.along, (100, 100))
    lens = Lens(1_600, 1_200, 1_600 * photo.taken.focal)
    ends = ((-1.0, -1.0), (2.0, 1.0))
    measured = length_mm(Picture(frame, lens, doubts_of("mesh", 2)), photo.pixels(np.array(ends)))

    assert measured.value == pytest.approx(photo.apart_mm(*ends), abs=measured.plus_minus)


def test_on_rock_without_mesh_nothing_is_proposed() -> None:
    assert found_in(without_mesh(3)) is None


@pytest.mark.parametrize("shape", [(1, 1), (3, 4000), (480, 640)], ids=str)
def test_in_a_photo_of_nothing_nothing_is_proposed(shape: tuple[int, int]) -> None:
    assert proposed_frame(np.full(shape, 90, dtype=np.uint8)) is None
