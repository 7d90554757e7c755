"""Rows as broken: each on its own profile, and distances in space where two rows differ."""

import math
from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.demanded import line_of, profile_before
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import OldRow, ProfileSeen, SurveyPoint
from schemas.bundle import Bundle
from schemas.findings import Assessment, Verdict
from tests.unit.assess.conforming import (
    STANDARD,
    conforming,
    finding,
    length,
    with_round,
    with_row,
)

D1 = STANDARD.classes[0]
WIDE = ProfileSeen(width_m=Decimal("7.0"), rise_m=Decimal("2.6"), method="laser")
HIGHER = ProfileSeen(width_m=Decimal("5.0"), rise_m=Decimal("2.45"), method="laser")
AS_DESIGNED = ProfileSeen(width_m=D1.profile.width_m, rise_m=D1.profile.rise_m, method="laser")
SURVEY = (("-2.5", "0"), ("-2.6", "3.0"), ("-1.2", "4.7"), ("0", "5.2"), ("1.3", "4.6"),
          ("2.5", "3.0"), ("2.5", "0"))  # fmt: skip


def surveyed(*points: tuple[str, str], width: str = "5.1") -> ProfileSeen:
    read = tuple(SurveyPoint(y_m=Decimal(y), z_m=Decimal(z)) for y, z in points)
    return ProfileSeen(width_m=Decimal(width), rise_m=Decimal("2.2"), method="laser", points=read)


def positions(bundle: Bundle) -> list[int]:
    return [len(row.demanded.s_m) for row in seen_in(bundle).rows]


def said(found: Assessment) -> list[str | None]:
    return [it.words for one in found.findings if one.check == "profile" for it in one.places]


def test_only_the_row_that_is_wider_demands_more_bolts() -> None:
    usual = positions(conforming(rows=4))
    wider = positions(with_row(conforming(rows=4), 2, profile=WIDE))

    assert wider[1] > usual[1]
    assert [wider[0], *wider[2:]] == [usual[0], *usual[2:]]


def test_a_wider_row_counted_as_the_others_lacks_bolts() -> None:
    found = finding(with_row(conforming(rows=4), 2, profile=WIDE), "bolts_present")

    assert found.verdict is not Verdict.ACCEPT
    assert {it.row for it in found.places} == {2}


def test_a_row_measured_as_designed_changes_nothing() -> None:
    as_before = assess(conforming(rows=4))
    measured = assess(with_row(conforming(rows=4), 2, profile=AS_DESIGNED))

    assert as_before.may_be_accepted
    assert measured == as_before


def test_rows_before_and_behind_a_step_are_read_in_space() -> None:
    """The crown of row 2 stands 0.45 m higher: √(0.9² + 0.45²) = 1.006 m to it and from it."""
    rows = seen_in(with_row(conforming(rows=4), 2, profile=HIGHER)).rows

    assert [it.step_m > 0 for it in rows] == [False, True, True, False]
    assert rows[1].step_m >= 0.45
    found = finding(with_row(conforming(rows=4), 2, profile=HIGHER), "row_spacing")
    assert Decimal(found.measured or 0) >= Decimal(repr(math.hypot(0.9, 0.45))).quantize(
        Decimal("0.001")
    )


def test_the_gap_across_a_step_is_no_smaller_than_on_the_flat() -> None:
    flat = finding(conforming(rows=4), "largest_gap")
    stepped = finding(with_row(conforming(rows=4), 2, profile=HIGHER), "largest_gap")

    assert Decimal(stepped.measured or 0) > Decimal(flat.measured or 0)


def test_a_surveyed_row_is_laid_out_on_its_points() -> None:
    line = line_of(D1, surveyed(*SURVEY))
    (row,) = seen_in(with_row(conforming(rows=1), 1, profile=surveyed(*SURVEY))).rows

    assert (row.line.left_s_m, row.line.right_s_m) == (line.left_s_m, line.right_s_m)
    for s_m in row.demanded.s_m:
        y, z = row.profile.at(s_m)
        assert row.profile.s_m(y, z) == pytest.approx(s_m)
        assert z >= float(D1.profile.supported_from_m) - 1e-9


def test_a_sound_survey_contradicts_nothing() -> None:
    assert not said(assess(with_row(conforming(), 2, profile=surveyed(*SURVEY))))


@pytest.mark.parametrize(
    ("points", "why"),
    [
        ((("-2.5", "0"), ("2.5", "4"), ("-2.5", "4"), ("2.5", "0")), "crosses itself"),
        ((("2.5", "0"), ("0", "5"), ("-2.5", "0")), "from left to right"),
        ((("-2.5", "0"), ("2.5", "0")), "at least three points"),
        ((("-2.5", "0"), ("0", "1"), ("2.5", "0")), "above the floor"),
        ((("-2.5", "5"), ("-2.5", "0"), ("2.5", "0"), ("2.5", "5")), "crosses itself"),
        ((("-2.5", "0"), ("0", "0"), ("2.5", "0")), "crosses itself"),
    ],
)
def test_a_survey_that_is_no_outline_is_a_finding_and_its_width_counts(
    points: tuple[tuple[str, str], ...], why: str
) -> None:
    broken = surveyed(*points)
    found = assess(with_row(conforming(), 2, profile=broken))
    plain = broken.model_copy(update={"points": ()})

    assert why in (said(found)[0] or "")
    assert not found.may_be_accepted
    assert line_of(D1, broken) == line_of(D1, plain)


def test_a_survey_of_another_width_than_was_read_is_a_finding() -> None:
    found = assess(with_round(conforming(), profile=surveyed(*SURVEY, width="6.2")))

    assert said(found) == ["the profile, surveyed 5.100 m wide, and 6.2 m was read"]


def test_an_old_row_lies_on_the_profile_of_its_own_row() -> None:
    before = with_row(conforming(rows=3), 3, profile=WIDE).round
    at = [before.joint_m + Decimal("0.9") * number for number in (2, 3)]

    assert profile_before(before, OldRow(chainage_m=at[1])) == WIDE
    assert profile_before(before, OldRow(chainage_m=at[0])) is None
    assert profile_before(None, OldRow(chainage_m=at[1])) is None


def test_a_taped_straight_spacing_runs_along_the_rock_of_its_row() -> None:
    """The same tape covers more rock where the arch is tighter."""
    tight = ProfileSeen(width_m=Decimal("3.0"), rise_m=Decimal("1.5"), method="laser")
    bundle = conforming()
    (taped,) = bundle.round.rows[1].spacings
    straight = taped.model_copy(update={"reading": length("1.80", straight=True)})
    usual = with_row(bundle, 2, spacings=(straight,))

    def along(one: Bundle) -> Decimal:
        return Decimal(finding(one, "bolt_spacing").measured or 0)

    assert along(with_row(usual, 2, profile=tight)) > along(usual)
