"""A photo is taken once it lies there whole, wherever it comes from."""

import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image

from fieldapp.work.photo.sources import Camera, CameraFolder, NoCamera, PhotoSource
from tests.photos.taken import FORMATS, taken
from tests.stand_ins import GivenPhotos

BEGAN = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)


def at(path: Path, when: datetime) -> Path:
    os.utime(path, (when.timestamp(),) * 2)
    return path


@pytest.mark.parametrize("ending", FORMATS)
def test_a_photo_that_is_still_written_waits_for_its_end(ending: str, tmp_path: Path) -> None:
    whole = taken(tmp_path / f"whole.{ending}").read_bytes()
    (tmp_path / f"whole.{ending}").unlink()
    source = CameraFolder(tmp_path, BEGAN - timedelta(days=9_999))
    growing = tmp_path / f"new.{ending}"
    growing.write_bytes(whole[: len(whole) // 2])

    assert [source.photos() for _ in range(3)] == [()] * 3
    assert source.waiting() == 1
    growing.write_bytes(whole)
    assert source.photos() == (), "it was another one at the last look"
    assert source.photos() == (growing,)
    assert source.waiting() == 0


def test_a_photo_that_changes_at_every_look_is_never_taken(tmp_path: Path) -> None:
    growing = taken(tmp_path / "new.jpg")
    source = CameraFolder(tmp_path, BEGAN)
    for seconds in range(1, 5):
        at(growing, BEGAN + timedelta(seconds=seconds))

        assert source.photos() == ()


def test_what_was_there_long_before_is_not_offered_as_new(tmp_path: Path) -> None:
    at(taken(tmp_path / "old.jpg"), BEGAN - timedelta(hours=1))
    first = at(taken(tmp_path / "first.jpg"), BEGAN + timedelta(seconds=5))
    second = at(taken(tmp_path / "second.png"), BEGAN + timedelta(seconds=9))
    (tmp_path / "notes.txt").write_text("none")
    source = CameraFolder(tmp_path, BEGAN)
    source.photos()

    assert source.photos() == (second, first)


def test_a_folder_that_was_pulled_out_has_nothing(tmp_path: Path) -> None:
    assert CameraFolder(tmp_path / "gone", BEGAN).photos() == ()


def film(path: Path, frames: int = 30) -> Path:
    """Record a film that grows lighter, as a camera's exposure settles."""
    writer = cv2.VideoWriter(str(path), cv2.VideoWriter.fourcc(*"MJPG"), 10, (320, 240))
    for number in range(frames):
        writer.write(np.full((240, 320, 3), 5 * number, dtype=np.uint8))
    writer.release()
    return path


def test_a_camera_gives_one_picture_once_its_exposure_has_settled(tmp_path: Path) -> None:
    source = Camera(str(film(tmp_path / "film.avi")), tmp_path / "taken")
    (given,) = source.photos()
    source.release()
    with Image.open(given) as picture:
        grey = picture.convert("L").getpixel((160, 120))

        assert picture.size == (320, 240)
    assert grey == pytest.approx(45, abs=3), "the tenth frame"


def test_a_camera_that_gives_nothing_is_told(tmp_path: Path) -> None:
    with pytest.raises(NoCamera):
        Camera(str(tmp_path / "none.avi"), tmp_path / "taken").photos()


def test_all_of_them_are_sources(tmp_path: Path) -> None:
    photo = at(taken(tmp_path / "new.jpg"), BEGAN)
    folder = CameraFolder(tmp_path, BEGAN)
    folder.photos()
    sources: tuple[PhotoSource, ...] = (folder, GivenPhotos((photo,)))

    assert [source.photos() for source in sources] == [(photo,)] * 2
