"""New support over old: a round of its own kind, whose metres are counted once."""

from dataclasses import replace
from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.readings import last_row_m
from fieldapp.work.board import board
from fieldapp.work.demo.story import MAIN
from fieldapp.work.demo.walking import Look, Looker, answered
from fieldapp.work.heading_record import heading_record
from fieldapp.work.over_old import NotOverOld, begin_over_old
from fieldapp.work.questions import Known
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round, find_round, last_round, rounds
from fieldapp.work.sign import NotToBeAccepted
from fieldapp.work.stripping import report_stripped
from fieldapp.work.walk.supported_ground import installed
from schemas.bodies.event import Stripped
from schemas.features import OVER_OLD
from tests.unit.work.conftest import Shift

SOUND = {"row inbye": "Yes, all"}
FROM, TO = Decimal("580.0"), Decimal("585.0")


def looked(shift: Shift, look: Look | None = None) -> RoundWork:
    """Begin a round over old support in a heading that stands accepted, and look at all of it."""
    work = begin_over_old(shift.site, shift.place(MAIN).id, FROM, TO, shift.who())
    looker = Looker(shift.clock, shift.who().person_id, Known(crews=("crew A",)))
    return answered(work, look or Look(SOUND), looker, lambda work, touch: work.touched(touch))


def strip(shift: Shift) -> None:
    stripped = Stripped(to_m=TO, zones=("left wall",))
    report_stripped(shift.site, shift.place(MAIN).id, FROM, stripped, shift.who())


def test_it_begins_and_ends_at_old_rows_that_stay(shift: Shift) -> None:
    """5.0 m less the 1.0 m that the last row may be short, in rows of 0.9 m: five."""
    work = looked(shift)

    assert (work.seen.joint_m, work.seen.over and work.seen.over.to_m) == (FROM, TO)
    assert [it.chainage_m for it in work.seen.old_rows] == [FROM - Decimal("0.9"), FROM]
    assert len(work.seen.rows) == 5
    assert work.previous is None


def test_it_asks_for_the_row_inbye_and_for_nothing_of_the_face(shift: Shift) -> None:
    work = looked(shift)
    found = {it.check for it in assess(work.bundle(shift.clock())).findings}

    assert work.seen.over is not None
    assert work.seen.over.row_inbye_sound is True
    assert not found & {"face_made_safe", "last_row_marked", "misfires_and_butts"}
    assert {"last_row_to_face", "old_rows", "largest_gap", "bolts_present"} <= found


def test_accepted_it_moves_neither_line_nor_coverage_nor_the_next_round(shift: Shift) -> None:
    place = shift.place(MAIN).id
    before, last = shift.entry(MAIN), last_round(shift.site, place)
    shift.sign(looked(shift))
    now, begun = shift.entry(MAIN), begin_round(shift.site, place, shift.who()).seen

    assert (now.line_m, now.coverage) == (before.line_m, before.coverage)
    assert last is not None
    assert (begun.number, begun.joint_m) == (last.body.number + 1, last_row_m(last.body))


def test_it_gives_back_what_was_stripped(shift: Shift) -> None:
    before = shift.entry(MAIN)
    strip(shift)
    work = looked(shift)
    shift.sign(work)

    assert work.seen.over is not None
    assert len(work.seen.over.after) == 1
    assert (shift.entry(MAIN).line_m, shift.entry(MAIN).coverage) == (
        before.line_m,
        before.coverage,
    )


def test_after_a_stripping_misfires_are_looked_for(shift: Shift) -> None:
    strip(shift)
    found = {it.check for it in assess(looked(shift).bundle(shift.clock())).findings}

    assert "misfires_and_butts" in found


def test_a_stripping_that_comes_later_is_not_answered(shift: Shift) -> None:
    work = looked(shift)
    strip(shift)
    shift.sign(work)

    assert shift.entry(MAIN).line_m == FROM - Decimal("1.8")


@pytest.mark.parametrize("answers", [{"row inbye": "No"}, SOUND | {"ahead 5": Decimal("0.4")}])
def test_a_bad_row_inbye_or_rows_that_end_short_are_never_accepted(
    shift: Shift, answers: dict[str, str | Decimal]
) -> None:
    """The fifth row stands at 584.0 m as planned; 0.5 m short of that it is 1.5 m from 585.0."""
    with pytest.raises(NotToBeAccepted):
        shift.sign(looked(shift, Look(answers)))


def test_only_the_new_layer_is_judged_though_old_bolts_stand_between(shift: Shift) -> None:
    """A row left out between two new ones is a gap, however many old bolts stand in it."""
    work = looked(shift, Look(SOUND | {"ahead 3": Decimal("1.8")}))
    found = {it.check: it for it in assess(work.bundle(shift.clock())).findings}

    assert found["row_spacing"].fix == ("add a row between row 2 and row 3",)


def test_sent_back_it_closes_its_stretch(shift: Shift) -> None:
    shift.sign(looked(shift), "sent back")
    state = shift.entry(MAIN)

    assert state.line_m == FROM
    assert "re-support 1 was sent back" in state.because
    assert shift.row(MAIN).last_round == "Accepted"


def test_it_is_counted_by_itself_and_found_by_its_name(shift: Shift) -> None:
    shift.sign(looked(shift))
    second = looked(shift)
    shift.sign(second)

    assert second.seen.name == "re-support 2"
    assert find_round(shift.site, f"{MAIN} re-support 2").id == second.round_id
    assert not any(it.in_dispute for it in heading_record(shift.site, shift.place(MAIN).id).rounds)


def test_support_there_dates_from_the_new_layer_and_the_old_one_stays_on_record(
    shift: Shift,
) -> None:
    work = looked(shift)
    shift.sign(work)
    found = installed(shift.site, shift.place(MAIN).id)
    here = [it for it in found if it.ground.from_m <= FROM and it.ground.to_m > FROM]

    layers = [it.round.body.name if it.round is not None else "old" for it in here]
    assert layers == ["old", "re-support 1"]


def test_a_program_that_does_not_know_of_it_is_told_to_leave_it_alone(shift: Shift) -> None:
    work = looked(shift)
    shift.sign(work)
    (kept,) = (it for it in rounds(shift.site, shift.place(MAIN).id) if it.body.over)

    assert kept.entry.must == (OVER_OLD,)


@pytest.mark.parametrize(
    ("from_m", "to_m", "why"),
    [
        ("585", "585", "it has no length"),
        ("600", "700", "old support stands from 0.0 m to 611.2 m"),
        ("400", "500", "it takes 110 rows, a round has 60 at most"),
    ],
)
def test_a_stretch_that_can_not_be_is_refused(
    shift: Shift, from_m: str, to_m: str, why: str
) -> None:
    with pytest.raises(NotOverOld) as refused:
        begin_over_old(
            shift.site, shift.place(MAIN).id, Decimal(from_m), Decimal(to_m), shift.who()
        )

    assert refused.value.why == why


def test_a_row_inbye_that_is_not_inbye_contradicts_the_joint(shift: Shift) -> None:
    work = looked(shift)
    over = work.seen.over
    assert over is not None
    turned = work.seen.model_copy(
        update={"over": over.model_copy(update={"to_m": FROM - Decimal(1)})}
    )
    found = assess(replace(work, began=turned, touches=()).bundle(shift.clock()))

    assert not found.may_be_accepted
    assert any("is not inbye of the joint" in it.places[0].words for it in found.findings)


def test_the_board_says_that_it_is_being_looked_at(shift: Shift) -> None:
    begin_over_old(shift.site, shift.place(MAIN).id, FROM, TO, shift.who())
    row = next(it for it in board(shift.site, shift.clock()) if it.name == MAIN)

    assert row.detail.endswith("re-support 1")
