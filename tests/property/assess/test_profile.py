"""There and back along the rock, on any profile."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.profile.profile import Profile
from fieldapp.assess.profile.shapes import (
    flat_back_profile,
    measured_arch_profile,
    surveyed_profile,
)

lengths = st.floats(1.0, 8.0)
arches = st.builds(measured_arch_profile, lengths, st.floats(0.5, 4.0), st.floats(0.2, 5.0))
flat = st.builds(flat_back_profile, lengths, lengths, st.floats(0.0, 0.5))


@st.composite
def surveys(draw: st.DrawFn) -> Profile:
    """Heights over widths that go on from left to right: never crossing themselves."""
    steps = draw(st.lists(st.floats(0.2, 1.5), min_size=4, max_size=12))
    heights = draw(st.lists(st.floats(2.0, 6.0), min_size=len(steps), max_size=len(steps)))
    middle = sum(steps[:-1]) / 2
    across = [sum(steps[:n]) - middle for n in range(len(steps))]
    return surveyed_profile(list(zip(across, heights, strict=True)), springline_m=1.0)


profiles = arches | flat | surveys()


@settings(max_examples=150, deadline=None)
@given(profiles, st.floats(0, 1))
def test_from_the_crown_to_a_place_and_back(profile: Profile, share: float) -> None:
    left, right = profile.floor_s_m
    s = left + share * (right - left)
    y, z = profile.at(s)
    back = profile.s_m(y, z)

    assert math.dist(profile.at(back), (y, z)) < 1e-6
    assert z > -1e-9


@settings(max_examples=150, deadline=None)
@given(profiles, st.floats(0, 1), st.floats(0, 1))
def test_a_tape_is_never_longer_than_the_rock_and_turns_into_it(
    profile: Profile, one: float, other: float
) -> None:
    left, right = profile.floor_s_m
    a, b = (left + share * (right - left) for share in (one, other))
    chord = profile.arc_to_chord_m(a, b)
    along = profile.chord_to_arc_m(a, math.copysign(chord, b - a))

    assert chord <= abs(b - a) + 1e-9
    assert abs(along) <= abs(b - a) + 1e-4  # the first place so far away, or an earlier one
    if chord > 1e-4:
        assert abs(profile.arc_to_chord_m(a, a + along) - chord) < 1e-6


@settings(max_examples=80, deadline=None)
@given(profiles)
def test_a_mirrored_profile_is_as_long_and_as_large(profile: Profile) -> None:
    mirrored = profile.mirrored()

    assert math.isclose(mirrored.line_m, profile.line_m)
    assert math.isclose(mirrored.area_m2, profile.area_m2)
    assert math.dist(mirrored.at(0.3), (-profile.at(-0.3)[0], profile.at(-0.3)[1])) < 1e-9


@settings(max_examples=80, deadline=None)
@given(lengths, st.floats(0.5, 4.0), st.floats(0.2, 4.0), st.floats(0.01, 1.0))
def test_a_higher_arch_is_longer(width: float, wall: float, rise: float, more: float) -> None:
    as_designed = measured_arch_profile(width, wall, rise)
    as_broken = measured_arch_profile(width, wall, rise + more)

    assert as_broken.line_m > as_designed.line_m
    assert as_broken.area_m2 > as_designed.area_m2
