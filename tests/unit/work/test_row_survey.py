"""A row's surveyed profile from a file: what is taken, and what is refused and why."""

from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.work.demanded import demanded_in_row
from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round, open_round, undo
from fieldapp.work.row_survey import (
    OtherSize,
    SurveyRefused,
    read_survey,
    take_round_survey,
    take_row_survey,
)
from tests.standards import changed
from tests.unit.work.conftest import Shift

DESIGNED = changed(lambda document: document).classes[0].profile
"""5.0 m wide, an arch."""
SOUND = ("-3.1,0", "-3.1,3.2", "0,5.8", "3.1,3.2", "3.1,0.2")
"""Broken wider on both sides; the right wall ends in muck, 0.2 m above the floor."""


def a_list(*points: str, header: str = "x_m,y_m") -> bytes:
    return "\n".join((header, *points, "")).encode()


def why(*points: str, header: str = "x_m,y_m") -> str:
    with pytest.raises(SurveyRefused) as met:
        read_survey(a_list(*points, header=header), "row.csv", DESIGNED)
    return met.value.reason


def with_line(number: int, point: str) -> tuple[str, ...]:
    """Give the sound points with another in a line of the file; line 1 is the header."""
    return *SOUND[: number - 2], point, *SOUND[number - 1 :]


# --- what is taken ------------------------------------------------------------------------------


def test_points_are_taken_as_they_stand_with_the_width_that_they_mean() -> None:
    found = read_survey(a_list(*SOUND), "row.csv", DESIGNED)

    assert [f"{it.y_m},{it.z_m}" for it in found.points] == list(SOUND)
    assert found.width_m == Decimal("6.2")
    # The crown over the top of the designed walls.
    assert found.rise_m == Decimal("5.8") - DESIGNED.wall_height_m


def test_columns_beside_those_asked_for_are_left_alone_and_blank_lines_too() -> None:
    named = [f"p{n},{point}" for n, point in enumerate(SOUND)]
    usual = read_survey(a_list(*SOUND), "row.csv", DESIGNED)

    assert read_survey(a_list(*named, "", header="name, x_m, y_m"), "row.csv", DESIGNED) == usual


# --- what is refused ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("point", "reason"),
    [
        ("-3.1,high", 'line 3, y_m: "high" is no length in metres such as 2.5'),
        (",2.5", 'line 3, x_m: "" is no length in metres such as 2.5'),
        ("-3.1,nan", 'line 3, y_m: "nan" is no length in metres such as 2.5'),
        ("-3.1,-0.2", "line 3, y_m: -0.2 m is less than 0 m"),
        ("-3100,2.5", "line 3, x_m: -3100 m is less than -60 m"),
        ("-3.1,2500", "line 3, y_m: 2500 m is more than 100 m"),
        ("-3,1,2,5", "line 3, more figures than columns: write 2.5, not 2,5"),
    ],
)
def test_a_figure_that_is_no_place_on_the_rock_is_named_by_its_line(
    point: str, reason: str
) -> None:
    assert why(*with_line(3, point)) == reason


def test_two_points_are_no_outline_and_neither_are_more_than_a_profile_holds() -> None:
    many = [f"-3.1,{n / 100}" for n in range(200)]

    assert why("-3.1,0", "3.1,0") == "it has 2 points, and an outline at least 3"
    assert why(*many, *SOUND) == "line 202, it has more than 200 points"


def test_a_line_that_crosses_itself_is_named_where_it_does() -> None:
    crossing = why("-3,0", "-3,2.5", "2,5", "-2,5", "3,2.5", "3,0")

    assert crossing == "line 6, the surveyed line crosses itself there"


def test_both_walls_are_surveyed_down_to_the_floor() -> None:
    assert why(*SOUND[1:]).startswith("line 2, the left end is 3.2 m above the floor")
    assert why(*SOUND[:-1]).startswith("line 5, the right end is 3.2 m above the floor")


def test_points_run_from_left_to_right() -> None:
    assert why(*reversed(SOUND)) == "the survey must run from left to right of the centre line"
    assert why("0,0", "0,0.1", "0,0.2") == "all its points lie above one another"


def test_a_file_that_is_no_such_list_is_told_what_it_begins_with() -> None:
    missing = "line 1, the column x_m is missing: it begins with x_m,y_m"

    assert (why(*SOUND, header="east,height"), why(header="")) == (missing, missing)
    with pytest.raises(SurveyRefused, match="not UTF-8"):
        read_survey(b"\xff\xfex_m,y_m", "row.csv", DESIGNED)


# --- in a round ---------------------------------------------------------------------------------


def begun(shift: Shift) -> RoundWork:
    return begin_round(shift.site, shift.place().id, shift.who())


def by(shift: Shift) -> Asker:
    return Asker(at=shift.clock(), by=shift.who().person_id)


def a_file(folder: Path, *points: str) -> Path:
    file = folder / "row.csv"
    file.write_bytes(a_list(*points))
    return file


def test_what_was_surveyed_is_in_the_draft_on_the_disk_and_is_taken_back_as_one_touch(
    shift: Shift, tmp_path: Path
) -> None:
    usual = begun(shift)
    work = take_row_survey(shift.site, usual, 2, a_file(tmp_path, *SOUND), by(shift))
    known = open_round(shift.site, shift.place().id)
    back = undo(shift.site, work, shift.clock(), None)

    assert known is not None
    assert known.work.seen.profile_at(2) == work.seen.profile_at(2)
    assert demanded_in_row(work, 2) > demanded_in_row(usual, 2)
    assert back.seen.rows == usual.seen.rows


def test_feet_are_asked_about_before_a_row_is_taken_as_three_times_as_wide(
    shift: Shift, tmp_path: Path
) -> None:
    in_feet = a_file(tmp_path, "-8.2,0", "-8.2,8.2", "0,16.4", "8.2,8.2", "8.2,0")
    usual = begun(shift)
    with pytest.raises(OtherSize) as met:
        take_row_survey(shift.site, usual, 2, in_feet, by(shift))
    known = open_round(shift.site, shift.place().id)
    sure = take_row_survey(shift.site, usual, 2, in_feet, by(shift), sure=True)

    assert "Row 2 is surveyed 16.4 m wide and 16.4 m high" in str(met.value)
    assert known is not None
    assert known.work.seen.profile_at(2) is None
    assert sure.seen.profile_at(2) is not None


def test_a_drive_half_as_wide_is_asked_about_too_it_would_demand_fewer_bolts(
    shift: Shift, tmp_path: Path
) -> None:
    narrow = a_file(tmp_path, "-1.2,0", "-1.2,2.4", "0,5", "1.2,2.4", "1.2,0")

    with pytest.raises(OtherSize):
        take_row_survey(shift.site, begun(shift), 2, narrow, by(shift))


def test_a_stick_that_was_pulled_out_changes_nothing(shift: Shift, tmp_path: Path) -> None:
    with pytest.raises(SurveyRefused, match=r"gone.csv can't be taken: no such file"):
        take_row_survey(shift.site, begun(shift), 2, tmp_path / "gone.csv", by(shift))


# --- the whole round ----------------------------------------------------------------------------


def of_rows(folder: Path, *named: str) -> Path:
    """Write the sound outline for each row that is named."""
    file = folder / "round.csv"
    points = (f"{row},{point}" for row in named for point in SOUND)
    file.write_bytes(a_list(*points, header="row,x_m,y_m"))
    return file


def test_a_list_that_names_rows_is_taken_row_by_row_and_each_can_be_taken_back(
    shift: Shift, tmp_path: Path
) -> None:
    usual = begun(shift)
    work = take_round_survey(shift.site, usual, of_rows(tmp_path, "1", "3"), by(shift))
    widths = [it.profile.width_m for it in work.seen.rows if it.profile is not None]

    assert widths == [Decimal("6.2"), Decimal("6.2")]
    assert work.seen.profile_at(2) is None
    assert undo(shift.site, work, shift.clock(), None).seen.profile_at(3) is None


def test_a_list_that_names_no_row_is_of_the_whole_round(shift: Shift, tmp_path: Path) -> None:
    usual = begun(shift)
    work = take_round_survey(shift.site, usual, a_file(tmp_path, *SOUND), by(shift))

    assert work.seen.profile is not None
    assert len(work.seen.profile.points) == len(SOUND)
    assert demanded_in_row(work, 2) > demanded_in_row(usual, 2)


def test_of_a_list_with_rows_the_row_that_was_chosen_is_taken_alone(
    shift: Shift, tmp_path: Path
) -> None:
    file = of_rows(tmp_path, "1", "2")
    work = take_row_survey(shift.site, begun(shift), 2, file, by(shift))

    assert (work.seen.profile_at(1), work.seen.profile_at(2) is None) == (None, False)
    with pytest.raises(SurveyRefused, match="it has no point of row 3"):
        take_row_survey(shift.site, work, 3, file, by(shift))


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("40", "line 2, row 40, and this round has"),
        ("0", 'line 2, row: "0" is no row such as 1, the first from the joint'),
        ("", 'line 2, row: "" is no row'),
        ("1.5", 'line 2, row: "1.5" is no row'),
    ],
)
def test_a_row_that_the_round_has_not_is_refused_and_nothing_of_the_list_is_kept(
    row: str, reason: str, shift: Shift, tmp_path: Path
) -> None:
    usual = begun(shift)
    with pytest.raises(SurveyRefused, match=reason):
        take_round_survey(shift.site, usual, of_rows(tmp_path, row, "1"), by(shift))
    known = open_round(shift.site, shift.place().id)

    assert known is not None
    assert known.work.seen.rows == usual.seen.rows
