"""A test on its way: each reading on disk, undone, gone on with, and asked one after another."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.work.asked import Digits
from fieldapp.work.batches import add_batch, batches
from fieldapp.work.bolt_tests.draft import (
    BoltTestAbout,
    BoltTestWork,
    begin_bolt_test,
    begun_bolt_tests,
    discard_test,
    hold_timed,
    keep_bolt_test,
    keep_test_touch,
    undo_test,
)
from fieldapp.work.bolt_tests.pick import PickFrom, Rig
from fieldapp.work.bolt_tests.put_right import looked_over
from fieldapp.work.bolt_tests.questions import question_now, questions, readings
from fieldapp.work.bolt_tests.recording import bolt_tests, heading_tests
from fieldapp.work.bolt_tests.refusals import BoltTestRefused, KeepItSo
from fieldapp.work.demo.story import MAIN
from fieldapp.work.rounds import open_rounds
from fieldapp.work.said_touches import SaidTouch
from fieldapp.work.standard_in_force import in_force
from schemas.bodies.batch import Batch
from tests.unit.work.conftest import Shift

TECHNICIAN = "Geotechnical technician"
DUE = {"kind": "proof pull", "why": "by the standard's share", "bolt_type": "RB24"}


def say(shift: Shift, work: BoltTestWork, **says: Any) -> BoltTestWork:
    shift.wait(seconds=10)
    return keep_test_touch(shift.site, work, SaidTouch(at=shift.clock(), says=says))


def read(shift: Shift, work: BoltTestWork, *readings: tuple[str, str]) -> BoltTestWork:
    for load, displacement in readings:
        work = say(shift, work, load_now=load)
        work = say(shift, work, displacement_mm=displacement)
    return work


def begun(shift: Shift) -> BoltTestWork:
    """Begin one that is due, and find its bolt."""
    work = begin_bolt_test(shift.site, shift.place(MAIN).id, DUE)
    return say(shift, work, chainage_m="609.4", zone="back")


def pick(shift: Shift) -> PickFrom:
    """Give what there is to pick from in the heading."""
    now = shift.clock()
    return PickFrom(
        standard=in_force(shift.site, now).body,
        rounds=heading_tests(shift.site, shift.place(MAIN).id, now).rounds,
        face_m=Decimal("612.02"),
        crews=("crew A", "crew B"),
        batches=batches(shift.site),
        rigs=(Rig("rig 2", now - timedelta(days=20)),),
        today=now,
    )


def test_each_reading_is_there_after_the_power_was_cut(shift: Shift) -> None:
    rounds_before = open_rounds(shift.site)
    work = read(shift, begun(shift), ("0", "0"), ("40", "2"))
    half = say(shift, work, load_now="60")

    (again,) = begun_bolt_tests(shift.reopened().site)

    assert again == half
    assert [it["load_kn"] for it in again.readings] == ["0", "40"]
    assert begin_bolt_test(shift.site, shift.place(MAIN).id, {}) == again
    assert len(open_rounds(shift.site)) == len(rounds_before)


def test_everything_that_was_said_is_looked_over_before_it_is_kept_and_asked_anew(
    shift: Shift,
) -> None:
    """Type, batch, crew and rig stand on keys; what is not so is touched, and nothing else."""
    bolt = {"bolt_row": 1, "bolt": "1/5", "batch": "RB24-0731", "crew": "crew A"}
    by = {"installed_at": None, "rig": "rig 2", "rig_checked_at": shift.clock().isoformat()}
    work = say(shift, begun(shift), **bolt, **by)
    work = read(shift, work, ("0", "0"), ("85", "4"))
    work = say(shift, work, no_more=True, broke="nothing", held_min=1)
    stated = {it.note: it.label for it in looked_over(work).choices}

    assert question_now(work, pick(shift)) is None
    assert stated["bolt type"] == "RB24"
    assert (stated["batch"], stated["crew"], stated["row and bolt"]) == (
        "RB24-0731",
        "crew A",
        "1/5",
    )
    assert (stated["put in"], stated["rig or wrench"], stated["readings"]) == (
        "?",
        "rig 2",
        "2 read",
    )
    (anew,) = (it for it in looked_over(work).choices if it.note == "crew")
    asked = question_now(say(shift, work, **anew.says), pick(shift))
    assert asked is not None
    assert asked.ask == "Which crew put it in?"


def test_the_pad_shows_what_is_demanded_of_a_torque_a_core_and_a_slip(shift: Shift) -> None:
    torque = replace(begun(shift), about=about(shift, kind="torque", bolt_type="PB24"))
    cores = replace(begun(shift), about=about(shift, kind="shotcrete cores"))
    pulled = say(shift, begun(shift), load_now="40")
    asked = {
        it.digits.unit: it.digits.limit
        for work in (torque, cores, pulled)
        for it in readings(work, pick(shift))
        if isinstance(it.digits, Digits)
    }

    assert asked["N·m"] == "180 N·m demanded"
    assert asked["MPa"] == "30 MPa demanded"
    assert asked["mm"] == "10 mm allowed"


def about(shift: Shift, **began: Any) -> BoltTestAbout:
    now = shift.clock()
    return BoltTestAbout(draft="bolt_test", heading_id="", began=began, began_at=now)


def test_how_old_shotcrete_is_stands_on_a_key_where_its_round_says_when_it_was_sprayed(
    shift: Shift,
) -> None:
    known = pick(shift)
    sprayed = replace(known.rounds[0], sprayed_at=shift.clock() - timedelta(days=31, hours=5))
    began = about(shift, kind="shotcrete cores", round=sprayed.round_id)
    (age,) = (
        it
        for it in readings(replace(begun(shift), about=began), replace(known, rounds=(sprayed,)))
        if it.key == "age_days"
    )

    assert [(it.label, it.note) for it in age.choices] == [
        ("31", "days, by its round"),
        ("?", "not known"),
    ]


def test_undo_takes_one_half_of_a_reading_back_and_then_the_other(shift: Shift) -> None:
    work = read(shift, begun(shift), ("0", "0"), ("40", "2"))
    half = undo_test(shift.site, work, None)
    none = undo_test(shift.site, half, None)

    assert (len(half.readings), half.said["load_now"]) == (1, "40")
    assert (len(none.readings), "load_now" in none.said) == (1, False)


def test_the_hold_timer_counts_whole_minutes_and_goes_on_while_the_tablet_is_off(
    shift: Shift,
) -> None:
    running = hold_timed(shift.site, begun(shift), None)
    shift.wait(seconds=119)
    stopped = hold_timed(shift.site, begun_bolt_tests(shift.site)[0], None)

    assert running.held_since is not None
    assert (stopped.held_since, stopped.said["held_min"]) == (None, 1)


def test_a_test_is_kept_with_when_it_was_read_last_and_its_draft_is_closed(shift: Shift) -> None:
    work = read(shift, begun(shift), ("0", "0"), ("85", "4"))
    read_at = shift.clock()
    work = say(shift, work, no_more=True, broke="nothing", held_min=1, rig=None)
    with pytest.raises(KeepItSo):
        keep_bolt_test(shift.site, work, shift.who(TECHNICIAN))
    assert len(begun_bolt_tests(shift.site)) == 1
    kept = keep_bolt_test(shift.site, work, shift.who(TECHNICIAN), all_the_same=True).known

    assert (kept.id, kept.test.tested_at) == (work.test_id, read_at)
    assert bolt_tests(shift.site) == (kept,)
    assert begun_bolt_tests(shift.site) == ()


def test_each_reading_is_kept_with_when_it_was_touched(shift: Shift) -> None:
    work = read(shift, begun(shift), ("0", "0"), ("85", "4"))
    read_at = shift.clock()
    work = say(shift, work, no_more=True, broke="nothing", held_min=1)
    assert work.test is not None

    assert [it.read_at for it in work.test.pulled] == [read_at - timedelta(seconds=20), read_at]
    assert work.test.hold_told_at == read_at + timedelta(seconds=10)


def test_a_hold_that_was_touched_before_it_can_have_passed_is_asked_about(shift: Shift) -> None:
    """5 min stated 10 s after the load was touched: right only of readings from paper."""
    checked = {"rig": "rig 2", "rig_checked_at": f"{shift.clock():%Y-%m-%d}T00:00:00Z"}
    work = read(shift, begun(shift), ("0", "0"), ("85", "4"))
    said = {"no_more": True, "broke": "nothing", "held_min": 5, **checked}
    at_once = say(shift, work, **said)
    with pytest.raises(KeepItSo) as asked:
        keep_bolt_test(shift.site, at_once, shift.who(TECHNICIAN))
    shift.wait(minutes=4, seconds=30)
    waited = say(shift, work, **said)

    assert asked.value.reason.startswith("5 min held were touched 10 s after the load was")
    kept = keep_bolt_test(shift.site, waited, shift.who(TECHNICIAN)).known
    assert kept.result.outcome == "passed"


def test_what_is_refused_stays_begun_and_what_is_discarded_is_gone(shift: Shift) -> None:
    work = begun(shift)
    with pytest.raises(BoltTestRefused):
        keep_bolt_test(shift.site, work, shift.who(TECHNICIAN))
    assert begun_bolt_tests(shift.site) == (work,)
    discard_test(shift.site, work)

    assert begun_bolt_tests(shift.site) == ()


def test_a_pull_asks_for_the_bolt_then_the_rig_then_one_reading_after_the_other(
    shift: Shift,
) -> None:
    """What the round says of its bolts is offered; nothing is answered beforehand."""
    work, choices = begin_bolt_test(shift.site, shift.place(MAIN).id, DUE), pick(shift)
    asked = []
    answers: dict[str, dict[str, Any]] = {
        "chainage_m": {"chainage_m": "609.4", "round": choices.rounds[-1].round_id},
        "zone": {"zone": "back"},
        "bolt_row": {"bolt_row": 2},
        "bolt": {"bolt": "2/5"},
        "batch": {"batch": "RB24-0731"},
        "crew": {"crew": "crew A"},
        "installed_at": {"installed_at": None},
        "rig": {"rig": "rig 2"},
        "rig_checked_at": {"rig_checked_at": None},
        "load 0": {"load_now": "10"},
        "displacement at 10": {"displacement_mm": "0"},
        "load 1": {"load_now": "85"},
        "displacement at 85": {"displacement_mm": "4"},
        "load 2": {"no_more": True},
        "broke": {"broke": "nothing"},
        "held_min": {"held_min": 1},
    }
    offered = {}
    while (question := question_now(work, choices)) is not None:
        asked.append(question.key)
        offered[question.key] = [it.label for it in question.choices]
        work = say(shift, work, **answers[question.key])

    assert asked == list(answers)
    assert offered["bolt_row"] == ["1", "2", "3", "4", "?"]
    assert offered["bolt"] == [str(it) for it in range(1, 10)]
    assert offered["batch"] == ["RB24-0731", "?"]
    assert offered["crew"] == ["crew A", "?"]
    assert offered["rig_checked_at"] == ["16 Apr 2031", "?"]
    assert offered["load 0"] == ["0", "10"]
    assert offered["load 1"] == ["20", "30", "85", "No more"]
    assert offered["load 2"] == ["85", "No more"]


def test_only_batches_are_offered_that_the_bolt_can_be_of(shift: Shift) -> None:
    """Of a round: its bolts and resin, no mesh; where no round is known, those of its type."""
    keeper, choices = shift.who("Records keeper"), pick(shift)
    add_batch(shift.site, Batch(label="RB24-9", of="bolts", bolt_type="RB24"), keeper)
    add_batch(shift.site, Batch(label="PB24-9", of="bolts", bolt_type="PB24"), keeper)
    add_batch(shift.site, Batch(label="MESH-9", of="mesh"), keeper)
    used = frozenset({"RB24-9", "RES-9", "MESH-9"})
    choices = replace(pick(shift), rounds=(replace(choices.rounds[-1], batches=used),))
    known = say(shift, begun(shift), round=choices.rounds[0].round_id, bolt_row=None, bolt=None)
    of_round = question_now(known, choices)
    discard_test(shift.site, known)
    of_none = question_now(begun(shift), choices)

    assert of_round is not None
    assert of_none is not None
    assert [it.label for it in of_round.choices] == ["RB24-9", "RES-9", "?"]
    offered = [it.label for it in of_none.choices]
    assert "RB24-9" in offered
    assert not {"PB24-9", "MESH-9"} & set(offered)


@pytest.mark.parametrize(
    ("kind", "asked", "offered"),
    [("proof pull", "With which rig?", "rig 2"), ("torque", "With which wrench?", "wrench 1")],
)
def test_a_pull_is_offered_rigs_and_a_torque_wrenches(
    shift: Shift, kind: str, asked: str, offered: str
) -> None:
    both = replace(pick(shift), rigs=(Rig("rig 2", None), Rig("wrench 1", None, turns=True)))
    work = say(shift, begun(shift), kind=kind)
    by = next(it for it in questions(work, both) if it.key == "rig")

    assert (by.ask, [it.label for it in by.choices]) == (asked, [offered, "Another", "?"])


def test_a_bolt_that_gave_is_not_asked_how_long_it_held(shift: Shift) -> None:
    work = say(shift, begun(shift), batch=None, crew=None, installed_at=None)
    work = say(shift, work, rig=None, rig_checked_at=None)
    work = say(shift, read(shift, work, ("60", "4")), no_more=True, broke="bar")

    assert question_now(work, pick(shift)) is None


def test_cores_are_asked_for_their_age_and_one_after_the_other(shift: Shift) -> None:
    began = {"kind": "shotcrete cores", "why": "by the standard's share"}
    work = begin_bolt_test(shift.site, shift.place(MAIN).id, began)
    work = say(shift, work, chainage_m="609.4", zone="back", age_days=28)
    first = question_now(work, pick(shift))
    work = say(shift, say(shift, work, core="31"), core="30")
    third = question_now(work, pick(shift))

    assert first is not None
    assert third is not None
    assert (first.ask, third.ask) == ("Core 1: which strength?", "Core 3: which strength?")
    assert work.test is not None
    assert work.test.cores_mpa == (Decimal(31), Decimal(30))
