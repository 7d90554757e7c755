"""Measuring on a photo against exact geometry, general libraries and known scenes."""

from typing import Any

import cv2
import numpy as np
import pytest
from skimage.transform import ProjectiveTransform

from fieldapp.assess.photo.camera import Lens, focal_length_px, viewpoint
from fieldapp.assess.photo.frame import Frame
from fieldapp.assess.photo.homography import NoPlane, homography
from fieldapp.assess.photo.measured import Doubts, Picture, area_m2, length_mm
from tests.photos.held import held_truth
from tests.photos.near_truth import beside_truth
from tests.photos.rendered import Mesh
from tests.photos.scenes import KINDS
from tests.reference.record import reference

from_estimate: Any = ProjectiveTransform.from_estimate
SQUARE = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=np.float64)
TRAPEZOID = np.array([[0, 0], [4, 0], [3, 2], [1, 2]], dtype=np.float64)
SEEN = np.array(
    [[592.114, 259.4498], [1287.8974, 202.0853], [1223.9068, 741.2555], [670.7918, 838.0436]]
)
"""A metre of a grid of 100 mm, by a pinhole of 1400 px before 1920 × 1080, 2.2 m away, the plane
turned by 30° and −15°."""
OWN_CAMERA = "Own example: pinhole projection, checked with two general libraries"
ONLY_TAPS = Doubts(0.5, 0, 0, np.inf, 300, 0)


def seen_metre(doubts: Doubts = ONLY_TAPS) -> Picture:
    return Picture(Frame("mesh", SEEN, SQUARE * 1000), Lens(1920, 1080, 1400), doubts)


@reference("Exact: the eight linear equations in whole numbers", "closed form")
def test_a_square_seen_as_a_trapezoid() -> None:
    found = homography(SQUARE, TRAPEZOID)

    assert found.to_plane / found.to_plane[2, 2] == pytest.approx(
        np.array([[4, 2, 0], [0, 4, 0], [0, 1, 1]], dtype=np.float64), abs=1e-8
    )
    assert found.places(np.array([[0.5, 0.5]])) == pytest.approx(np.array([[2, 4 / 3]]))


@reference("Linear algebra: three points on one line fix no homography", "closed form")
def test_three_points_on_one_line_are_refused() -> None:
    on_a_line = np.array([[0, 0], [1, 0], [2, 0], [0, 1]], dtype=np.float64)
    for pixels, places in ((on_a_line, TRAPEZOID), (TRAPEZOID, on_a_line)):
        with pytest.raises(NoPlane):
            homography(pixels, places)


@reference("OpenCV findHomography, scikit-image ProjectiveTransform", "published")
@pytest.mark.parametrize("number", [4, 5, 9, 25])
def test_it_is_what_general_libraries_find(number: int) -> None:
    """With more than four points each minimises an algebraic error: noise of 0.1 px apart."""
    chance = np.random.default_rng(number)
    places = chance.uniform(0, 1000, (number, 2))
    pixels = seen_metre().plane.pixels(places) + chance.normal(0, 0.1, (number, 2))
    ours = homography(pixels, places)
    theirs, _ = cv2.findHomography(pixels, places)
    others = from_estimate(pixels, places)

    where = chance.uniform((600, 250), (1250, 800), (50, 2))
    found = ours.places(where)
    assert found == pytest.approx(cv2.perspectiveTransform(where[None], theirs)[0], abs=0.3)
    assert found == pytest.approx(others(where), abs=0.02)


@reference(OWN_CAMERA, "closed form")
@pytest.mark.parametrize(
    ("points", "true_mm", "by_one_scale_mm"),
    [
        (((760.4243, 447.4483), (1023.715, 417.2132)), 400, 444.194),
        (((760.4243, 447.4483), (782.2812, 723.1481)), 500, 463.542),
        (((825.1191, 376.6743), (1080.481, 523.8586)), 500, 494.008),
        (((725.8709, 781.2818), (786.0904, 771.1969)), 100, 102.338),
        (((1156.2463, 279.1085), (1218.8551, 273.2369)), 100, 105.397),
    ],
)
def test_a_length_is_not_read_off_by_one_scale(
    points: tuple[tuple[float, float], ...], true_mm: float, by_one_scale_mm: float
) -> None:
    ends = np.array(points)
    sides_px = np.hypot(*(np.roll(SEEN, -1, axis=0) - SEEN).T)

    assert length_mm(seen_metre(), ends).value == pytest.approx(true_mm, abs=0.01)
    one_scale = np.hypot(*(ends[1] - ends[0])) * 1000 / sides_px.mean()
    assert one_scale == pytest.approx(by_one_scale_mm, abs=0.01)


@reference(
    "JCGM 100:2008, first order; JCGM 101:2008, 100,000 draws agree within 2 %", "published"
)
@pytest.mark.parametrize(
    ("points", "u_mm"),
    [
        (((760.4243, 447.4483), (1023.715, 417.2132)), 1.1339),
        (((725.8709, 781.2818), (786.0904, 771.1969)), 1.173),
        (((1156.2463, 279.1085), (1218.8551, 273.2369)), 1.1541),
        (((636.1631, 583.3859), (1252.4425, 500.8201)), 1.4379),
    ],
)
def test_how_sure_a_length_is(points: tuple[tuple[float, float], ...], u_mm: float) -> None:
    """Each tap doubted by 0.5 px each way, those of the frame too."""
    assert length_mm(seen_metre(), np.array(points)).u == pytest.approx(u_mm, rel=1e-3)


@reference("JCGM 101:2008: propagation of distributions", "published")
def test_an_area_s_doubt_is_what_draws_give() -> None:
    outline = seen_metre().plane.pixels(
        np.array([[200, 300], [450, 260], [520, 480], [300, 560]], dtype=np.float64)
    )
    found = area_m2(seen_metre(), outline)
    chance = np.random.default_rng(7)
    drawn = [
        area_m2(
            Picture(
                Frame("mesh", SEEN + chance.normal(0, 0.5, SEEN.shape), SQUARE * 1000),
                Lens(1920, 1080, 1400),
                Doubts(0, 0, 0, np.inf, 300, 0),
            ),
            outline + chance.normal(0, 0.5, outline.shape),
        ).value
        for _ in range(2000)
    ]

    assert found.u == pytest.approx(np.std(drawn), rel=0.06)


@reference("Pinhole model: focal length from the angle of view", "closed form")
def test_what_a_focal_length_says() -> None:
    """70° across 4000 px: 2856 px; 0.875 mm a pixel at 2.5 m."""
    equivalent_mm = 18 / np.tan(np.radians(35))
    focal_px = focal_length_px(4000, 3000, equivalent_mm)

    assert focal_px == pytest.approx(2856.296, abs=1e-3)
    assert 2500 / focal_px == pytest.approx(0.87526, abs=1e-5)


@reference("Pinhole model: r·h/(Z − h)", "closed form")
def test_what_stands_out_of_the_plane_seems_farther_out() -> None:
    """50 mm out, 400 mm from the camera's foot, 2.2 m away: 9.30 mm; first order has 9.09."""
    straight = Frame("mesh", SQUARE * 1400 + 260, SQUARE * 2200 - 1100)
    stand = Picture(straight, Lens(1920, 1920, 1400), ONLY_TAPS).taken_from

    assert stand.foot_mm == pytest.approx((0, 0), abs=1e-6)
    assert stand.distance_mm == pytest.approx(2200)
    lean = stand.lean(np.array([[400.0, 0.0]]))[0, 0]
    assert 50 * lean == pytest.approx(9.3023, rel=50 / 2200)


@reference(OWN_CAMERA, "closed form")
def test_where_the_camera_stood() -> None:
    """cos 30° · cos 15°: 33.2° aside."""
    stand = viewpoint(seen_metre().plane, Lens(1920, 1080, 1400))
    normal = np.degrees(np.arccos(np.cos(np.radians(30)) * np.cos(np.radians(15))))
    middle_of_picture = seen_metre().places(np.array([[960.0, 540.0]]))[0]

    assert stand.obliquity_deg(middle_of_picture) == pytest.approx(normal, abs=0.05)


@reference("JCGM 100:2008, 6.2: an interval that holds 95 %", "published")
def test_of_a_thousand_scenes_the_stated_interval_holds_the_truth() -> None:
    held = {kind: held_truth(kind, 250) for kind in KINDS}

    assert 0.93 <= np.mean([it for those in held.values() for it in those]) <= 0.97
    assert all(np.mean(those) >= 0.88 for those in held.values())


@pytest.mark.parametrize(
    ("sag_mm", "aside_deg", "least"),
    [
        (0.0, (0, 50), 1.0),
        (20.0, (0, 25), 1.0),
        (20.0, (25, 50), 0.97),
        (40.0, (0, 25), 0.95),
        (40.0, (25, 50), 0.85),
    ],
)
@reference("Scenes of known truth: a pinhole camera before sagging mesh", "closed form")
def test_a_length_tapped_with_care_is_within_2_per_cent_or_5_mm(
    sag_mm: float, aside_deg: tuple[float, float], least: float
) -> None:
    """Inside the frame; wires bent by 1.5 mm, a lens that bends by 2 %, taps off by 1.5 px."""
    beside = beside_truth(Mesh(sag_mm=sag_mm), 250, aside_deg)

    assert np.mean(beside <= 1) >= least
