"""Placing sheets of mesh by touch, one after another, and reading their laps."""

from dataclasses import replace
from decimal import Decimal

from fieldapp.assess import assess
from fieldapp.work.questions import Asker
from fieldapp.work.questions.mesh import mesh
from fieldapp.work.round import RoundWork
from fieldapp.work.sheets import Placing
from fieldapp.work.touches import AnyTouch, Undone, read_touch, write_touch
from fieldapp.work.touches.sheets import SheetEdge
from schemas.bodies.round import Method, ProfileSeen, SheetSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import JOINT, LOOKED, conforming, with_round
from tests.unit.assess.meshed import found, meshed, sheet

ASKER = Asker(at=LOOKED, by="somebody")


def work_of(bundle: Bundle) -> RoundWork:
    return RoundWork(
        round_id="round",
        draft_id="round",
        heading=bundle.heading,
        standard=bundle.standard,
        began=bundle.round,
        previous=bundle.previous_round,
    )


def sheets(work: RoundWork) -> Placing:
    return Placing(work, ASKER)


def touched(work: RoundWork, touch: AnyTouch) -> RoundWork:
    """The touch as it comes back from the disk."""
    return work.touched(read_touch(write_touch(touch)))


def placed(code: str, rows: int, number: int) -> RoundWork:
    work = work_of(conforming(code, rows))
    for _ in range(number):
        work = touched(work, sheets(work).next_sheet())
    return work


def edges(one: SheetSeen) -> tuple[str, str, str, str]:
    return tuple(
        f"{it:.2f}" for it in (one.from_m - JOINT, one.to_m - JOINT, one.left_s_m, one.right_s_m)
    )  # type: ignore[return-value]


def test_sheets_lie_side_by_side_over_the_supported_line_then_one_course_on() -> None:
    """Five of 2.4 m lapped 0.3 m reach 10.8 m over a line of 9.92 m; then 2.7 m inbye,
    as far as the face 3.5 m from the joint."""
    laid = placed("D1", 3, 6).seen.sheets

    assert [edges(it) for it in laid] == [
        ("-0.15", "2.85", "-5.40", "-3.00"),
        ("-0.15", "2.85", "-3.30", "-0.90"),
        ("-0.15", "2.85", "-1.20", "1.20"),
        ("-0.15", "2.85", "0.90", "3.30"),
        ("-0.15", "2.85", "3.00", "5.40"),
        ("2.55", "3.50", "-5.40", "-3.00"),
    ], "the last one ends at the face"


def test_a_strip_of_a_roll_goes_all_the_way_and_is_cut_as_long_as_it_has_to_be() -> None:
    assert edges(placed("O2", 3, 2).seen.sheets[1]) == ("2.25", "4.60", "-4.50", "4.50")

    wide = ProfileSeen(width_m=Decimal("5.5"), rise_m=Decimal("2.0"), method="laser")
    work = work_of(with_round(conforming("O2"), profile=wide))
    strip = touched(work, sheets(work).next_sheet()).seen.sheets[0]
    assert strip.right_s_m - strip.left_s_m > Decimal("9.0")


def test_the_first_sheet_laps_those_of_the_round_before() -> None:
    before = conforming(number=411, sheets=(sheet(4, ("-2.40", "0.40")),)).round
    bundle = conforming().model_copy(update={"previous_round": before})

    assert sheets(work_of(bundle)).next_sheet().sheet.from_m - JOINT == Decimal("0.10")


def test_the_next_sheet_goes_on_from_the_last_as_it_was_dragged() -> None:
    work = placed("O2", 3, 1)
    work = touched(work, sheets(work).edge_read(1, "inbye", JOINT + Decimal("2.30")))
    work = touched(work, sheets(work).next_sheet())

    assert work.seen.sheets[1].from_m - JOINT == Decimal("2.00")


def test_an_edge_goes_in_steps_of_50_mm_and_never_over_the_other_one() -> None:
    placing = sheets(placed("O2", 3, 1))

    assert placing.edge_at(1, "inbye", float(JOINT) + 2.318) == JOINT + Decimal("2.30")
    assert placing.edge_at(1, "inbye", float(JOINT) - 3) == JOINT + Decimal("0.05")
    assert placing.edge_at(1, "left", 9.0) == Decimal("4.30")
    assert placing.edge_at(7, "left", 0.0) is None


def test_a_dragged_edge_is_an_estimate_until_a_figure_by_tape_is_typed() -> None:
    """The standard's doubt of what is paced goes into the lap: 0.3 m, give or take 0.1 each."""
    work = placed("O2", 3, 2)
    work = touched(work, sheets(work).edge_read(2, "outbye", JOINT + Decimal("2.20")))
    asked = sheets(work).edge_asked(2, "outbye")
    assert asked is not None
    assert asked.digits is not None
    taped = touched(work, asked.digits.touch(Decimal("2.18"), "tape"))

    assert work.seen.sheets[1].from_method == "paced"
    assert asked.ask == "Sheet 2, outbye edge: how far inbye of the joint?"
    second = taped.seen.sheets[1]
    assert (second.from_m, second.from_method) == (JOINT + Decimal("2.18"), "tape")


def test_an_edge_is_asked_for_on_the_side_that_it_is_on() -> None:
    work = placed("D1", 3, 1)

    def asked(edge: SheetEdge) -> str:
        question = sheets(work).edge_asked(1, edge)
        assert question is not None
        return question.ask.partition("how far ")[2]

    assert [asked("outbye"), asked("left")] == ["outbye of the joint?", "left of the crown?"]
    assert sheets(work).edge_asked(7, "left") is None


def test_a_lap_between_dragged_edges_is_less_sure_than_between_taped_ones() -> None:
    def doubt(method: Method) -> Decimal:
        work = placed("O2", 3, 2)
        edges: tuple[tuple[int, SheetEdge, str], ...] = (
            (1, "inbye", "2.55"),
            (2, "outbye", "2.25"),
        )
        for number, edge, at_m in edges:
            read = sheets(work).edge_read(number, edge, JOINT + Decimal(at_m), method)
            work = touched(work, read)
        (lap,) = (it for it in sheets(work).laps if it.number == 2)
        return lap.u_m

    assert doubt("paced") > doubt("tape") > 0


def test_a_placed_sheet_is_as_standard_until_its_lap_was_read() -> None:
    work = placed("O2", 3, 2)
    assert found(work.bundle(LOOKED), "mesh_cover").verdict is Verdict.NOT_LOOKED_AT

    for lap in sheets(work).laps:
        work = touched(work, sheets(work).lap_read(lap, 4))
        work = touched(work, sheets(work).lap_held(lap, None))
    assert found(work.bundle(LOOKED), "mesh_cover").verdict is Verdict.ACCEPT
    assert assess(work.bundle(LOOKED)).verdict is Verdict.ACCEPT


def test_a_lap_counted_short_moves_the_sheet_along_and_is_judged() -> None:
    """Two openings of 75 mm instead of four: the second strip lies 0.15 m farther inbye."""
    work = placed("O2", 3, 2)
    (lap,) = (it for it in sheets(work).laps if it.number == 2)
    work = touched(work, sheets(work).lap_read(lap, 2))

    assert work.seen.sheets[1].from_m - JOINT == Decimal("2.40")
    assert found(work.bundle(LOOKED), "mesh_lap").measured == "150"


def test_a_lap_counted_where_an_edge_was_read_leaves_the_edge() -> None:
    work = placed("O2", 3, 2)
    at_m = JOINT + Decimal("2.25")
    work = touched(work, sheets(work).edge_read(2, "outbye", at_m))
    (lap,) = (it for it in sheets(work).laps if it.number == 2)
    work = touched(work, sheets(work).lap_read(lap, 2))

    assert work.seen.sheets[1].from_m == at_m


def test_every_touch_on_a_sheet_is_taken_back_as_any_other() -> None:
    work = placed("O2", 3, 2)
    (lap,) = (it for it in sheets(work).laps if it.number == 2)
    acts = (
        sheets(work).lap_read(lap, 2),
        sheets(work).lap_held(lap, "back"),
        sheets(work).edge_read(2, "left", Decimal("-3.00")),
        sheets(work).taken_away(1),
    )
    for touch in acts:
        changed = touched(work, touch)
        assert changed.seen != work.seen
        assert touched(changed, Undone(at=LOOKED)).seen == work.seen


def test_a_sheet_that_was_taken_away_takes_its_laps_along() -> None:
    work = placed("O2", 3, 2)
    (lap,) = (it for it in sheets(work).laps if it.number == 2)
    work = touched(work, sheets(work).lap_read(lap, 4))
    work = touched(work, sheets(work).taken_away(1))

    assert [it.number for it in work.seen.sheets] == [2]
    assert work.seen.sheets[0].laps == ()


def test_a_touch_on_a_sheet_that_is_not_there_changes_nothing() -> None:
    work = placed("O2", 3, 1)
    gone = touched(work, sheets(work).taken_away(1))

    late = sheets(work).edge_read(1, "left", Decimal("-3.00"))
    assert touched(gone, late).seen.sheets == ()


def test_a_lap_counted_at_its_sheets_is_not_asked_for_once_more() -> None:
    work = placed("O2", 3, 2)
    work = replace(work, began=work.began.model_copy(update={"laps": ()}))
    lap = next(it for it in sheets(work).laps if it.number == 2)
    counted = touched(work, sheets(work).lap_read(lap, 4))

    def still_asked(of: RoundWork) -> list[str]:
        return [it.key for it in mesh(of, ASKER) if not it.answered and it.checks == ("mesh_lap",)]

    assert still_asked(work) == ["lap 1", "lap 2"]
    assert still_asked(counted) == ["lap 1"]


def test_what_is_not_known_of_a_sheet_is_asked_lap_by_lap() -> None:
    work = placed("O2", 3, 2)
    work = replace(work, began=work.began.model_copy(update={"laps": ()}))
    asked = []
    while (question := sheets(work).asked(2)) is not None:
        asked.append(question.ask)
        work = touched(work, question.choices[-1 if "openings" in question.ask else 0].touch)

    assert asked == [
        "Sheet 1 and sheet 2, lap 2: openings at its narrowest?",
        "Sheet 1 and sheet 2, lap 2: a plate bears on both along all of it?",
    ]
    assert sheets(work).asked(2) is None


def asked_of(work: RoundWork, number: int) -> tuple[str, list[str]]:
    question = sheets(work).asked(number)
    assert question is not None
    return question.ask, [it.label for it in question.choices]


def test_a_sheet_larger_than_any_there_is_is_asked_about_and_put_right() -> None:
    """Sheets come as 3.0 × 2.4 m."""
    work = placed("D1", 3, 1)
    for edge, at in (("right", "4.80"), ("inbye", "1388.9")):
        work = touched(work, sheets(work).edge_read(1, edge, Decimal(at), "tape"))  # type: ignore[arg-type]
    ask, choices = asked_of(work, 1)

    assert ask == "Where is it? sheet 1 is 2.65 m by 10.20 m, larger than 2.40 m by 3.00 m"
    assert choices == ["As standard", "Take away"]
    question = sheets(work).asked(1)
    assert question is not None
    mended = touched(work, question.choices[0].touch)
    assert edges(mended.seen.sheets[0]) == ("-0.15", "2.85", "-5.40", "-3.00")
    assert sheets(touched(work, question.choices[1].touch)).placed == ()


def test_a_sheet_beside_the_drive_is_asked_about_and_no_finger_drags_one_there() -> None:
    work = placed("D1", 3, 5)
    off = touched(work, sheets(work).edge_read(5, "right", Decimal(40), "tape"))

    assert asked_of(off, 5)[0] == "Where is it? sheet 5 does not lie in this round"
    assert sheets(work).edge_at(5, "right", 40.0) == Decimal("6.958")


def test_a_strip_may_lie_along_the_drive_or_across_it_and_ends_with_its_pack() -> None:
    """A pack of O2 holds 27 m; a strip is as wide as a round needs it."""
    across = touched(
        placed("O2", 3, 1),
        sheets(placed("O2", 3, 1)).edge_read(1, "left", Decimal("-5.5"), "tape"),
    )
    turned = work_of(meshed(sheet(1, ("-0.15", "2.25"), ("-1.2", "1.8"))))

    assert "larger" not in (asked_of(across, 1)[0])
    assert "larger" not in asked_of(turned, 1)[0]
