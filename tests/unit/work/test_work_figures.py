"""Figures of the work: never demanded, and somebody beyond the last row is on top of the board."""

from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.work.beyond import NobodyWentBeyond, beyond_named, find_beyond, look_into
from fieldapp.work.board import board
from fieldapp.work.demo.story import HEADINGS, ORE_S
from fieldapp.work.known import stated
from fieldapp.work.questions import Asker
from fieldapp.work.roles import NotYours
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import find_round, keep_touch, open_round
from fieldapp.work.take_off import round_take_off
from fieldapp.work.touches import AnyTouch
from fieldapp.work.touches.work import BoltsOfTypeUsed, MethodNamed, WentBeyond
from fieldapp.work.work_figures import Answer, Figure, are_stated, work_figures
from fieldapp.work.writing import state
from schemas.bodies.sign_off import SignOff
from schemas.bodies.work_seen import BoltsUsed, WorkSeen
from tests.unit.work.conftest import Shift

TO_BAR_DOWN = "to bar down"


def drafted(shift: Shift) -> RoundWork:
    known = open_round(shift.site, shift.place(ORE_S).id)
    assert known is not None
    return known.work


def touched(shift: Shift, work: RoundWork, *answers: str, typed: str = "") -> RoundWork:
    """Answer the figure whose question holds the first word, by the labels of its keys."""
    asker = Asker(at=shift.clock(), by=None)
    figure = next(it for it in work_figures(work, asker) if answers[0] in it.ask)
    for label in answers[1:]:
        answer = next(it for it in figure.answers if it.label == label)
        if answer.then is None:
            return kept(shift, work, answer)
        figure = answer.then
    assert figure.typed is not None
    return keep_touch(shift.site, work, figure.typed.touch(Decimal(typed)))


def kept(shift: Shift, work: RoundWork, answer: Answer) -> RoundWork:
    assert answer.touch is not None
    return keep_touch(shift.site, work, answer.touch)


def said(shift: Shift, work: RoundWork) -> dict[str, str]:
    return {it.ask: it.said for it in work_figures(work, Asker(at=shift.clock(), by=None))}


def every_touch(figure: Figure) -> list[AnyTouch]:
    found = [it.touch for it in figure.answers if it.touch is not None]
    return found + [it for one in figure.answers if one.then for it in every_touch(one.then)]


def test_nothing_is_filled_in_before_somebody_states_it(shift: Shift) -> None:
    work = drafted(shift)

    assert set(said(shift, work).values()) == {""}
    assert not are_stated(work)


def test_what_is_stated_stands_beside_its_question(shift: Shift) -> None:
    work = drafted(shift)
    work = touched(shift, work, "started", "07…", "07:15")
    work = touched(shift, work, "finished", "09…", "09:05")
    work = touched(shift, work, "How was it", "mechanised")
    work = touched(shift, work, "people", "3")
    work = touched(shift, work, "held it up", "machine broke down", "20 min")
    work = touched(shift, work, "held it up", "called away", typed="7")
    work = touched(shift, work, "bolts PB24", typed="19")
    work = touched(shift, work, "where not whole", typed="22.5")

    found = {ask: it for ask, it in said(shift, work).items() if it}
    assert list(found.values()) == [
        "07:15", "09:05", "mechanised", "3", "20 min, machine broke down; 7 min, called away",
        "19", "22.5 m²",
    ]  # fmt: skip
    assert drafted(shift).seen.work == work.seen.work, "it is on the disk"


def test_a_time_is_of_the_last_hours_and_never_ahead(shift: Shift) -> None:
    asker = Asker(at=shift.clock(), by=None)
    started = next(it for it in work_figures(drafted(shift), asker) if "started" in it.ask)
    times = [it.started_at for it in every_touch(started) if hasattr(it, "started_at")]

    assert max(times) <= shift.clock()
    assert len(times) > 100


def test_counting_the_bolts_of_a_type_again_replaces_what_was_said(shift: Shift) -> None:
    work = touched(shift, drafted(shift), "bolts PB24", typed="18")
    work = touched(shift, work, "bolts PB24", typed="19")

    assert work.seen.work is not None
    assert work.seen.work.used.bolts == (BoltsUsed(bolt_type="PB24", bolts=19),)


def test_figures_neither_hold_a_round_back_nor_change_what_it_comes_to(shift: Shift) -> None:
    plain = shift.look()
    with_work = plain.touched(MethodNamed(at=shift.clock(), by=None, method="hand-held")).touched(
        WentBeyond(at=shift.clock(), by=None, reason=TO_BAR_DOWN)
    )

    found, before = (assess(it.bundle(shift.clock())) for it in (with_work, plain))
    assert found.findings == before.findings


def test_somebody_beyond_the_last_row_is_above_all_headings_until_it_was_looked_into(
    shift: Shift,
) -> None:
    before = [row.name for row in board(shift.site, shift.clock())]
    work = touched(shift, drafted(shift), "beyond the last row", "Yes", TO_BAR_DOWN)
    first, *_rest = board(shift.site, shift.clock())
    (beyond,) = first.beyond

    assert before == [place.name for place in HEADINGS]
    assert (first.name, beyond.words) == (
        ORE_S, "somebody went beyond the last row in round 61, to bar down"
    )  # fmt: skip
    assert beyond_named(shift.site, f"{ORE_S} 61") == beyond, "named as a recorded round is"

    look_into(shift.site, beyond, "talked through with the crew", shift.who())

    assert [row.name for row in board(shift.site, shift.clock())] == before
    with pytest.raises(NobodyWentBeyond):
        find_beyond(shift.site, work.round_id, work.seen)


def test_a_round_recorded_again_without_it_does_not_take_it_from_the_board(shift: Shift) -> None:
    went = WentBeyond(at=shift.clock(), by=None, reason=TO_BAR_DOWN)
    work = shift.look().touched(went)
    shift.sign(work, "sent back")
    known = find_round(shift.site, work.round_id)
    again = known.body.model_copy(update={"work": None})
    before = (known.entry.revision,)
    state(shift.site, "round", again, author=None, thing_id=known.id, parents=before)

    (beyond,) = shift.row().beyond

    assert beyond.reason == TO_BAR_DOWN
    look_into(shift.site, find_beyond(shift.site, known.id, again), "talked", shift.who())
    assert shift.row().beyond == ()


def test_another_reason_is_another_matter(shift: Shift) -> None:
    work = touched(shift, drafted(shift), "beyond the last row", "Yes", TO_BAR_DOWN)
    look_into(shift.site, find_beyond(shift.site, work.round_id, work.seen), "talked", shift.who())
    touched(shift, work, "beyond the last row", "Yes", "to charge the face")

    assert [it.reason for it in shift.row(ORE_S).beyond] == ["to charge the face"]


def test_a_recorded_round_keeps_it_and_only_a_supervisor_or_engineer_looks_into_it(
    shift: Shift,
) -> None:
    went = WentBeyond(at=shift.clock(), by=None, reason=TO_BAR_DOWN)
    used = BoltsOfTypeUsed(at=shift.clock(), by=None, used=BoltsUsed(bolt_type="RB24", bolts=47))
    work = shift.look().touched(went).touched(used)
    entry = shift.entry()
    shift.sign(work)
    (beyond,) = shift.row().beyond

    with pytest.raises(NotYours, match="look into why somebody"):
        look_into(shift.site, beyond, "nothing", shift.who("Bolter, crew A"))
    look_into(shift.site, beyond, "talked", shift.who("Geotechnical engineer"))

    assert shift.row().beyond == ()
    assert stated(shift.site, "sign_off", SignOff, round=work.round_id)[-1].body.decision == (
        "accepted"
    )
    assert shift.entry().line_m >= entry.line_m, "it closes nothing by itself"
    (difference,) = round_take_off(shift.site, find_round(shift.site, work.round_id)).used
    assert (difference.by_standard, difference.more) == (Decimal(45), Decimal(2))


def test_work_without_anything_stated_counts_as_not_stated(shift: Shift) -> None:
    work = drafted(shift)
    empty = work.began.model_copy(update={"work": WorkSeen()})

    assert not are_stated(RoundWork(**{**vars(work), "began": empty}))
