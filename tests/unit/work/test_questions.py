"""What a round asks, in which order, and which question a finding leads to."""

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from functools import cache
from zoneinfo import ZoneInfo

import pytest

from fieldapp.assess import assess
from fieldapp.work.demo.scenarios import (
    AT_THE_LIMIT,
    BOLT_MISSING,
    CONFORMING,
    NOT_CURED,
    SHORT_LAP,
    work_of,
)
from fieldapp.work.demo.walking import Look, Looker, StoryClock, answered
from fieldapp.work.questions import (
    Asker,
    Known,
    Question,
    asked_again,
    next_question,
    questions,
    settled_by,
)
from fieldapp.work.round import RoundWork
from fieldapp.work.round_view import AGAIN, RoundView, round_view
from fieldapp.work.touches import AnyTouch, BoltMarked, HoleFound, RowCounted, RowsPlanned
from schemas.bodies.batch import Batch
from schemas.bodies.round import BoltSeen, HoleSeen
from schemas.findings import Finding, Verdict
from tests.demo_mine import PRESENT
from tests.standards import changed

STANDARD = changed(lambda _document: None)
KNOWN = Known(crews=("crew A", "crew B"))
STAGES = ("before", "old rows", "rows", "drawn", "mesh", "torque", "last")


@cache
def begun() -> RoundWork:
    """A D1 round of five rows that nobody has touched."""
    conforming = work_of(CONFORMING, STANDARD, PRESENT)
    return RoundWork(
        round_id=conforming.round_id,
        draft_id=conforming.draft_id,
        heading=conforming.heading,
        standard=conforming.standard,
        began=conforming.began,
    )


def asked(work: RoundWork, known: Known = KNOWN) -> tuple[Question, ...]:
    return questions(work, Asker(PRESENT, None), known)


def question(work: RoundWork, key: str, known: Known = KNOWN) -> Question:
    return next(it for it in asked(work, known) if it.key == key)


def looked(work: RoundWork, look: Look) -> RoundWork:
    looker = Looker(StoryClock(PRESENT), None, KNOWN)
    return answered(work, look, looker, RoundWork.touched)


def seen(work: RoundWork) -> RoundView:
    assessment = assess(work.bundle(PRESENT + timedelta(hours=1)))
    return round_view(work, Asker(PRESENT, None), KNOWN, assessment)


def finding(work: RoundWork, check: str) -> Finding:
    found = assess(work.bundle(PRESENT + timedelta(hours=1))).findings
    return next(it for it in found if it.check == check)


# --- the order ----------------------------------------------------------------------------------


def test_it_is_asked_in_the_order_of_walking() -> None:
    stages = list(dict.fromkeys(it.stage for it in asked(begun())))

    assert stages == [stage for stage in STAGES if stage in stages]
    assert stages[0] == "before"
    assert stages[-1] == "last"


def test_a_conforming_round_of_five_rows_asks_39_questions() -> None:
    work = looked(begun(), Look())

    # 8 before the bolts, 2 old rows, 5 rows of 3, 3 drawn bolts, 2 laps of 2, 3 of mesh, 4 last
    assert len(work.touches) == 8 + 2 + 15 + 3 + 4 + 3 + 4
    assert next_question(asked(work)) is None


def test_nothing_is_answered_beforehand() -> None:
    assert not any(it.answered for it in asked(begun()))


def test_every_question_can_be_answered() -> None:
    assert all(it.choices or it.digits is not None for it in asked(begun()))


def test_the_demanded_count_is_among_the_chips_and_never_in_the_words() -> None:
    for number in range(1, 6):
        row = question(begun(), f"count {number}")
        assert {"8", "9"} <= {chip.label for chip in row.choices}
        assert "9" not in row.ask + row.hint


def test_the_demanded_count_is_not_always_in_one_place() -> None:
    places = {
        [chip.label for chip in question(begun(), f"count {number}").choices].index("9")
        for number in range(1, 6)
    }

    assert len(places) > 1


def test_counting_a_row_again_draws_no_other_bolts() -> None:
    def drawn(work: RoundWork) -> tuple[int, ...]:
        touches = [chip.touch for chip in question(work, "count 2").choices]
        assert isinstance(touches[0], RowCounted)
        return touches[0].drawn

    work = begun()
    counted = work.touched(question(work, "count 2").choices[0].touch)

    assert drawn(work) == drawn(counted)


def test_three_bolts_are_drawn_in_a_round() -> None:
    work = looked(begun(), Look())

    assert sum(len(row.spot_checks) for row in work.seen.rows) == 3


def test_more_rows_ask_more() -> None:
    longer = begun().touched(RowsPlanned(at=PRESENT, rows=7))

    assert question(longer, "count 7").row == 7


# --- the bolts that went in ---------------------------------------------------------------------


def test_bolts_without_a_label_are_told_by_the_bolter() -> None:
    label = Batch.model_validate(
        {"label": "RB24-1", "of": "bolts", "bolt_type": "RB24", "length_m": "2.4"}
    )
    chips = question(begun(), "bolts", Known((), (label,))).choices
    bases = [getattr(chip.touch, "basis", "") for chip in chips]

    assert [chip.label for chip in chips] == ["RB24-1", "2.4 m", "Other"]
    assert bases == ["pack label", "told by the bolter", "told by the bolter"]


def test_another_bolt_than_the_class_asks_for_is_rework() -> None:
    work = looked(begun(), Look(answers={"bolts": "Other"}))

    assert finding(work, "bolt_type").verdict is Verdict.REWORK


# --- the mesh -----------------------------------------------------------------------------------


def hole(work: RoundWork) -> AnyTouch:
    return HoleFound(
        at=PRESENT,
        hole=HoleSeen(
            chainage_m=work.seen.joint_m,
            s_m=Decimal("0.5"),
            openings=4,
            above_floor_m=Decimal("3.5"),
        ),
    )


def test_looking_at_the_rest_of_the_mesh_keeps_a_marked_hole() -> None:
    marked = begun().touched(hole(begun()))
    rest = question(marked, "mesh whole")
    whole = marked.touched(rest.choices[0].touch)

    assert rest.choices[0].label == "No other"
    assert not rest.answered
    assert question(whole, "mesh whole").answered
    assert len(whole.seen.mesh.holes) == 1
    assert whole.seen.mesh.no_holes is False


# --- from a finding to its question -------------------------------------------------------------


def test_what_was_seen_leads_to_where_it_was_seen() -> None:
    work = work_of(BOLT_MISSING, STANDARD, PRESENT)
    settling = settled_by(finding(work, "bolts_present"), asked(work))

    assert settling is not None
    assert settling.key == "count 2"


def test_a_short_lap_leads_to_that_lap() -> None:
    work = work_of(SHORT_LAP, STANDARD, PRESENT)
    settling = settled_by(finding(work, "mesh_lap"), asked(work))

    assert settling is not None
    assert settling.key == "lap 2"


@pytest.mark.parametrize(
    ("check", "key"),
    [("mesh_lap", "lap 1"), ("bolts_present", "count 1"), ("last_row_to_face", "face left")],
)
def test_what_nobody_looked_at_leads_to_the_first_question_of_it(check: str, key: str) -> None:
    settling = settled_by(finding(begun(), check), asked(begun()))

    assert settling is not None
    assert settling.key == key


def test_every_finding_of_an_untouched_round_leads_to_a_question() -> None:
    found = assess(begun().bundle(PRESENT)).findings
    without = {it.check for it in found if settled_by(it, asked(begun())) is None}

    # What counting and marking bolts settle by themselves has no question of its own.
    assert without == {"lowest_bolt", "bolt_angle"}


# --- measure again ------------------------------------------------------------------------------


def test_only_the_reading_that_straddles_is_taken_again() -> None:
    work = work_of(AT_THE_LIMIT, STANDARD, PRESENT)
    straddling = [finding(work, "last_row_to_face")]

    assert straddling[0].verdict is Verdict.MEASURE_AGAIN
    assert asked_again(straddling, asked(work)) == {"face right"}


def test_it_is_asked_again_on_the_pad_alone() -> None:
    view = seen(work_of(AT_THE_LIMIT, STANDARD, PRESENT))

    assert view.question is not None
    assert (view.question.key, view.question.choices) == ("face right", ())
    assert view.question.hint == AGAIN
    assert (view.left, view.is_complete) == (1, False)


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [("0.940", Verdict.ACCEPT), ("0.995", Verdict.REWORK), ("1.080", Verdict.REWORK)],
)
def test_the_second_reading_settles_it_either_way(typed: str, verdict: Verdict) -> None:
    work = work_of(AT_THE_LIMIT, STANDARD, PRESENT)
    again = seen(work).question
    assert again is not None
    assert again.digits is not None
    settled = work.touched(again.digits.touch(Decimal(typed), "laser"))

    assert finding(settled, "last_row_to_face").verdict is verdict
    assert seen(settled).is_complete


def test_a_count_that_can_t_be_is_asked_again_and_says_why() -> None:
    work = looked(begun(), Look(answers={"count 2": Decimal(12)}))
    view = seen(work)

    assert view.question is not None
    assert view.question.key == "count 2"
    assert (
        view.question.hint == "Can't be: row 2: 12 plates, more than there are bolts. Look again."
    )
    assert view.question.choices, "a count is taken by a chip again"
    right = next(chip.touch for chip in view.question.choices if chip.label == "9")
    later = right.model_copy(update={"at": PRESENT + timedelta(minutes=30)})
    assert seen(work.touched(later)).is_complete


def test_holes_given_up_that_the_bolter_did_not_tell_of_are_asked_about_again() -> None:
    given_up = BoltSeen(position=4, state="blocked hole")
    marked = looked(begun(), Look()).touched(BoltMarked(at=PRESENT, row=2, bolt=given_up))
    again = seen(marked).question
    assert again is not None

    assert again.key == "blocked"
    assert again.hint == ("Can't be: 0 holes given up, the bolter told; 1 are marked. Look again.")
    told = marked.touched(next(it.touch for it in again.choices if it.label == "1"))
    assert "blocked" not in [it.key for it in seen(told).asked if not it.answered]


def test_a_row_in_another_is_measured_again_on_the_pad_alone() -> None:
    work = looked(begun(), Look(answers={"ahead 3": Decimal("0.00")}))
    view = seen(work)

    assert view.question is not None
    assert (view.question.key, view.question.choices) == ("ahead 3", ())
    assert view.question.hint == (
        "Can't be: row 3 stands 0.00 m ahead of row 2: no room for two rows. Look again."
    )


# --- when it was ---------------------------------------------------------------------------------


def test_hours_ago_are_shown_by_the_mine_s_clock_and_kept_in_utc() -> None:
    work = work_of(NOT_CURED, STANDARD, PRESENT)
    at = PRESENT.astimezone(ZoneInfo("Asia/Kathmandu"))
    sprayed = next(
        it for it in questions(work, Asker(at, None), KNOWN) if it.key == "sprayed"
    ).choices[1]

    # 09:30 UTC is 15:15 in Kathmandu, 5 h 45 min ahead.
    assert (sprayed.label, sprayed.note) == ("2 h ago", "13:15")
    assert sprayed.touch.model_dump_json(include={"sprayed_at"}) == (
        '{"sprayed_at":"2031-05-06T07:30:00Z"}'
    )


# --- rows answered too fast ---------------------------------------------------------------------


def rows_counted(gap: Callable[[int], timedelta]) -> RoundWork:
    work = begun()
    for number in range(1, 4):
        chip = question(work, f"count {number}").choices[0]
        work = work.touched(chip.touch.model_copy(update={"at": PRESENT + gap(number)}))
    return work


def test_three_rows_in_under_six_seconds_are_asked_about() -> None:
    hasty = rows_counted(lambda number: timedelta(seconds=2 * number))
    slow = rows_counted(lambda number: timedelta(seconds=3 * number))

    assert any(it.key == "haste 1, 2, 3" for it in asked(hasty))
    assert not any(it.key.startswith("haste") for it in asked(slow))


def test_they_are_asked_about_once() -> None:
    hasty = rows_counted(lambda number: timedelta(seconds=number))
    said = hasty.touched(question(hasty, "haste 1, 2, 3").choices[0].touch)

    assert not any(it.key.startswith("haste") for it in asked(said))
    assert said.seen.hasty[0].answer == "looked at each"
