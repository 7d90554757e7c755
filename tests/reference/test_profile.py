"""Profiles against geometry, and against numerical integration by SciPy."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from fieldapp.assess.profile.profile import ProfileRefused
from fieldapp.assess.profile.shapes import (
    designed_arch_profile,
    measured_arch_profile,
    surveyed_profile,
)
from tests.reference.record import reference

SEGMENT = "Circular segment: r = (W²/4 + a²)/(2a), arc = 2r·2atan(2a/W), any book of geometry"


@reference(SEGMENT + "; asin(W/2r) gives the supplement, 7.66 m", "closed form")
def test_a_measured_arch_beyond_a_semicircle() -> None:
    profile = measured_arch_profile(5.0, 2.5, 2.6)
    radius = (25 / 4 + 2.6**2) / (2 * 2.6)

    assert profile.arc_m == pytest.approx(8.06, abs=0.005)
    assert 2 * radius * math.asin(5 / (2 * radius)) == pytest.approx(7.66, abs=0.01)


@reference("Arc length by numerical integration: SciPy, scipy.integrate.quad", "closed form")
@pytest.mark.parametrize(("width", "rise"), [(5.0, 2.0), (6.0, 0.75), (4.5, 2.25), (5.5, 1.8)])
def test_the_arc_is_what_integration_gives(width: float, rise: float) -> None:
    radius = (width**2 / 4 + rise**2) / (2 * rise)
    # Half of the arc, parametrised by the angle from straight up to the springline.
    end = math.atan2(width / 2, radius - rise)
    length, _ = quad(lambda _: radius, 0.0, end)
    chords = np.linspace(-width / 2, width / 2, 200_001)
    heights = np.sqrt(np.maximum(radius**2 - chords**2, 0.0))
    polygon = float(np.hypot(np.diff(chords), np.diff(heights)).sum())
    arc = measured_arch_profile(width, 3.0, rise).arc_m

    assert arc == pytest.approx(2 * length, abs=1e-9)
    assert arc == pytest.approx(polygon, abs=2e-4)


@reference("Area under the arch by numerical integration: scipy.integrate.quad", "closed form")
@pytest.mark.parametrize(("width", "wall", "rise"), [(5.0, 3.0, 2.0), (6.0, 4.5, 0.75)])
def test_the_area_is_what_integration_gives(width: float, wall: float, rise: float) -> None:
    radius = (width**2 / 4 + rise**2) / (2 * rise)
    centre = wall + rise - radius
    area, _ = quad(lambda y: centre + math.sqrt(radius**2 - y * y), -width / 2, width / 2)

    assert measured_arch_profile(width, wall, rise).area_m2 == pytest.approx(area, abs=1e-6)


@reference("Shoelace formula and lengths of a polygon, recomputed by hand", "closed form")
def test_a_surveyed_profile() -> None:
    points = [(0, 0), (0, 3.5), (0.9, 4.8), (2.5, 5.3), (4.2, 4.9), (5, 3.8), (5, 0)]
    profile = surveyed_profile([(y - 2.5, z) for y, z in points], springline_m=3.5)

    assert profile.area_m2 == pytest.approx(23.965, abs=1e-9)
    assert profile.line_m == pytest.approx(13.664016, abs=1e-6)


@reference("Geometry of a semicircle on straight walls", "closed form")
@pytest.mark.parametrize(
    ("from_corner", "y", "z"),
    [(0, 0, 0), (1.5, 0, 1.5), (2.5, 0, 2.5), (4.0, 0.43666, 3.91161), (6.426991, 2.5, 5.0),
     (9.0, 4.64222, 3.78875), (10.353982, 5, 2.5), (12.0, 5, 0.85398)],
)  # fmt: skip
def test_places_along_a_semicircular_drive(from_corner: float, y: float, z: float) -> None:
    profile = designed_arch_profile(5.0, 2.5, 2.5)
    place = profile.at(profile.floor_s_m[0] + from_corner)

    assert place == pytest.approx((y - 2.5, z), abs=1e-4)


@reference("A rise over half the width is no designed arch", "common practice, no source")
def test_a_designed_rise_over_half_the_width_is_refused() -> None:
    with pytest.raises(ProfileRefused):
        designed_arch_profile(5.0, 2.5, 2.6)


@reference("Chord of a circle: 2r·sin(arc/2r)", "closed form")
@pytest.mark.parametrize(
    ("radius", "arc", "chord"), [(2.5625, 2.31, 2.23), (1.0, 1.40, 1.29), (1.0, 1.571, 1.414)]
)
def test_a_taped_straight_distance_is_shorter_than_the_rock(
    radius: float, arc: float, chord: float
) -> None:
    profile = measured_arch_profile(2 * radius, 3.0, radius)

    assert profile.arc_to_chord_m(-arc / 2, arc / 2) == pytest.approx(chord, abs=0.005)
    assert profile.chord_to_arc_m(
        -arc / 2, profile.arc_to_chord_m(-arc / 2, arc / 2)
    ) == pytest.approx(arc, abs=1e-9)
