"""A photo from after the work lies over the one from before, from wherever both were taken."""

import cv2
import numpy as np
import pytest

from fieldapp.assess.photo.aligned import Aligned, aligned, laid_over
from fieldapp.assess.photo.frame import mesh_frame
from fieldapp.assess.photo.homography import Points
from tests.photos.rendered import Mesh, Rendered, Taken, look

SIZE_PX = (400, 300)
FLAT = Mesh(sag_mm=0, bent_mm=0, turned=0.0)
BEFORE = Taken(SIZE_PX, distance_mm=1_500, tilt_deg=20, toward_deg=30, bend=0)
AFTER = Taken(SIZE_PX, distance_mm=1_200, tilt_deg=35, toward_deg=200, bend=0)
CROSSINGS = np.array([[x, y] for x in range(-5, 6) for y in range(-4, 5)], dtype=np.float64)
FOUR = np.array([[-2, -2], [2, -2], [2, 2], [-2, 2]], dtype=np.float64)


def laid(before: Rendered, after: Rendered, corners: Points, others: Points) -> Aligned:
    frames = (mesh_frame(it.pixels(at), 4, 4, (100, 100)) for it, at in
              ((before, corners), (after, others)))  # fmt: skip
    return aligned(*frames)


@pytest.fixture(scope="module")
def photos() -> tuple[Rendered, Rendered]:
    return look(FLAT, BEFORE), look(FLAT, AFTER)


@pytest.mark.parametrize("round_it", [1, -1], ids=["clockwise", "the other way round"])
@pytest.mark.parametrize("first", range(4))
def test_every_crossing_lies_on_itself_however_the_frame_was_tapped(
    photos: tuple[Rendered, Rendered], first: int, round_it: int
) -> None:
    """The truth is the renderer's; the other library's homography is fitted to it."""
    before, after = photos
    over = laid(before, after, FOUR, np.roll(FOUR[::round_it], first, axis=0))
    seen, truth = before.pixels(CROSSINGS), after.pixels(CROSSINGS)
    fitted, _ = cv2.findHomography(seen, truth)

    assert over.pixels(seen) == pytest.approx(truth, abs=1e-6)
    assert over.to_after / over.to_after[2, 2] == pytest.approx(fitted, abs=1e-5)


def test_of_frames_at_other_crossings_the_middles_are_brought_together(
    photos: tuple[Rendered, Rendered],
) -> None:
    """Scale, tilt and direction stay right: every crossing lies on one that is as far away."""
    before, after = photos
    away = np.array([1.0, -2.0])
    over = laid(before, after, FOUR, FOUR + away)

    found = over.pixels(before.pixels(CROSSINGS))
    assert found == pytest.approx(after.pixels(CROSSINGS + away), abs=1e-6)


def test_the_picture_is_what_the_other_camera_would_have_taken() -> None:
    """A wall of rough grey, seen by two cameras: the truth is the wall itself."""
    rough = cv2.GaussianBlur(np.random.default_rng(4).uniform(0, 1, (600, 600, 3)), (0, 0), 6)
    wall = (255 * (rough - rough.min()) / np.ptp(rough)).astype(np.uint8)
    corners = np.array([[200, 200], [400, 200], [400, 400], [200, 400]], dtype=np.float64)
    seen = [
        np.array([[110, 80], [280, 95], [270, 230], [100, 215]], dtype=np.float64),
        np.array([[150, 90], [260, 70], [275, 220], [140, 200]], dtype=np.float64),
    ]
    before, after = (
        np.asarray(
            cv2.warpPerspective(wall, cv2.findHomography(corners, pixels)[0], SIZE_PX), np.uint8
        )
        for pixels in seen
    )
    frames = [mesh_frame(pixels, 2, 2, (100, 100)) for pixels in seen]

    shown = laid_over(after, aligned(*frames), SIZE_PX)

    inside = np.s_[60:250, 80:300]
    assert np.abs(shown[inside].astype(float) - before[inside]).mean() < 2
    assert np.abs(after[inside].astype(float) - before[inside]).mean() > 15


def test_nothing_is_shown_beyond_the_horizon_of_the_plane() -> None:
    """Above it the same matrix would bring what lies behind the camera, upside down."""
    seen = np.array([[150, 150], [250, 150], [330, 280], [70, 280]], dtype=np.float64)
    horizon_px = 150 - 50 * 130 / 80  # where the sides of the frame meet
    straight_on = np.array([[950, 950], [1050, 950], [1050, 1050], [950, 1050]], dtype=np.float64)
    white = np.full((2_000, 2_000, 3), 255, dtype=np.uint8)

    frames = [mesh_frame(corners, 4, 4, (100, 100)) for corners in (seen, straight_on)]
    shown = laid_over(white, aligned(*frames), SIZE_PX)

    assert (shown[: int(horizon_px)] == 0).all()
    assert (shown[150:280, 190:210] == 255).all()
