"""A test of support is kept with what it comes to; a failed one opens what the standard says."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.bolt_tests import JudgedTest, Opened
from fieldapp.assess.bolt_tests.failed_support import failed_support
from fieldapp.work.batches import add_batch, in_doubt
from fieldapp.work.bolt_tests.recording import (
    NoSuchTest,
    Recorded,
    bolt_test,
    bolt_tests,
    heading_tests,
    record_bolt_test,
)
from fieldapp.work.bolt_tests.refusals import BoltTestRefused, KeepItSo
from fieldapp.work.called import called
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo.story import MAIN, ORE_N
from fieldapp.work.known import current
from fieldapp.work.rounds import last_round
from fieldapp.work.telling import engineers, tell_engineer
from schemas.bodies.batch import Batch
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from tests.unit.work.conftest import Shift

TECHNICIAN = "Geotechnical technician"
READINGS = ({"load_kn": "0", "displacement_mm": "0"}, {"load_kn": "85", "displacement_mm": "4"})


def a_test(shift: Shift, name: str = MAIN, /, **said: Any) -> BoltTest:
    """Give a proof test of a bar that passes, at 590.4 m, and what else is said."""
    body = {
        "heading": shift.place(name).id,
        "kind": "proof pull",
        "tested_at": shift.clock(),
        "why": "by the standard's share",
        "chainage_m": "590.4",
        "zone": "back",
        "bolt_type": "RB24",
        "pulled": READINGS,
        "held_min": 1,
        "rig": "rig 2",
        "rig_checked_at": shift.clock() - timedelta(days=20),
    }
    return BoltTest.model_validate(body | said)


def keep(shift: Shift, *, all_the_same: bool = False, **said: Any) -> Recorded:
    """Keep one as the technician, and let a minute go by."""
    test, who = a_test(shift, **said), shift.who(TECHNICIAN)
    recorded = record_bolt_test(shift.site, test, who, all_the_same=all_the_same)
    shift.wait(minutes=1)
    return recorded


def fails(shift: Shift, **said: Any) -> Recorded:
    return keep(shift, **{"broke": "anchor slipped", **said})


def opened(shift: Shift) -> Opened:
    (found,) = heading_tests(shift.site, shift.place(MAIN).id, shift.clock()).opened
    return found


def proof_tests_due(shift: Shift) -> int:
    due = heading_tests(shift.site, shift.place(MAIN).id, shift.clock()).due
    by_share = (it for it in due if it.why == "by the standard's share")
    return next((it.tests for it in by_share if it.kind == "proof pull"), 0)


def test_a_test_is_kept_and_judged_by_the_standard_by_which_it_was_made(shift: Shift) -> None:
    kept = keep(shift).known

    assert kept.result.outcome == "passed"
    assert kept.test.standard is not None
    assert bolt_test(shift.site, called(kept.id)) == kept
    assert bolt_tests(shift.site) == bolt_tests(shift.site, shift.place(MAIN).id) == (kept,)
    with pytest.raises(NoSuchTest):
        bolt_test(shift.site, "0000")


def test_three_bolts_are_due_in_a_heading_with_an_accepted_round_and_one_less_after_a_test(
    shift: Shift,
) -> None:
    """The accepted round lies at 607.6-611.2 m; older bolts outbye of it are none of its own."""
    before = proof_tests_due(shift)
    keep(shift)
    fails(shift, chainage_m="480.4")
    outbye = proof_tests_due(shift)
    keep(shift, chainage_m="608.4")

    assert (before, outbye, proof_tests_due(shift)) == (3, 3, 2)


def test_what_cant_have_been_is_refused_and_nothing_is_kept(shift: Shift) -> None:
    tomorrow = shift.clock() + timedelta(days=1)
    backwards = [{**it, "after_s": s} for it, s in zip(READINGS, "90", strict=True)]
    cant_be: dict[str, dict[str, Any]] = {
        "no load was read": {"pulled": ()},
        "no torque was read": {"kind": "torque"},
        "no core was pressed": {"kind": "shotcrete cores"},
        "it doesn't say which bolt type was tested": {"bolt_type": None},
        "S-2 revision 5 has no bolt type XX": {"bolt_type": "XX"},
        "it doesn't say which failed test it follows": {"why": "follows a failed test"},
        "no test of this heading has the id that it follows": {"after": "?"},
        "no round of this heading has that number": {"round": "?"},
        "the face is at 612.02 m, outbye of it": {"chainage_m": "9000"},
        "a reading would have been taken before the one ahead of it": {"pulled": backwards},
        "it would have been made later than now": {"tested_at": tomorrow},
        "the bolt would have been tested before it was put in": {"installed_at": tomorrow},
        "the rig would have been calibrated after the test": {"rig_checked_at": tomorrow},
    }

    for reason, said in cant_be.items():
        with pytest.raises(BoltTestRefused) as refused:
            keep(shift, **said)
        assert refused.value.reason == reason
    assert bolt_tests(shift.site) == ()


def test_a_bolt_isnt_tested_before_its_round_was_begun(shift: Shift) -> None:
    known = last_round(shift.site, shift.place(MAIN).id)
    assert known is not None
    before = known.body.started_at - timedelta(hours=1)

    with pytest.raises(BoltTestRefused, match="was begun after the test"):
        keep(shift, round=known.id, tested_at=before)


def test_what_is_odd_is_asked_about_and_kept_when_somebody_says_that_it_is_so(
    shift: Shift,
) -> None:
    much = [*READINGS, {"load_kn": "850", "displacement_mm": "5"}]
    odd: dict[str, dict[str, Any]] = {
        "Nobody said when the rig or wrench was last calibrated": {"rig_checked_at": None},
        "850.0 kN is more than the thread of RB24 carries, 122.5 kN": {"pulled": much},
        "This bolt is part of the support": {"kind": "destructive pull"},
    }

    for kept, (reason, said) in enumerate(odd.items()):
        with pytest.raises(KeepItSo) as asked:
            keep(shift, **said)
        assert asked.value.reason.startswith(reason)
        assert len(bolt_tests(shift.site)) == kept
        judged = keep(shift, all_the_same=True, **said).known.result
        assert judged.outcome == "can't be judged"


@pytest.mark.parametrize(
    ("batch", "reason"),
    [
        ("MESH-7", "MESH-7 is a batch of mesh"),
        ("PB24-7", "PB24-7 is a batch of PB24, not of RB24"),
    ],
)
def test_a_batch_that_the_bolt_cant_be_of_is_asked_about(
    shift: Shift, batch: str, reason: str
) -> None:
    keeper = shift.who("Records keeper")
    add_batch(shift.site, Batch(label="MESH-7", of="mesh"), keeper)
    add_batch(shift.site, Batch(label="PB24-7", of="bolts", bolt_type="PB24"), keeper)
    with pytest.raises(KeepItSo) as asked:
        keep(shift, batch=batch)

    assert asked.value.reason == reason
    assert keep(shift, batch=batch, all_the_same=True).known.test.batch == batch


def test_who_tested_beyond_the_last_accepted_row_is_asked_for_nobody_may_be_there(
    shift: Shift,
) -> None:
    with pytest.raises(KeepItSo) as asked:
        keep(shift, chainage_m="611.9")

    assert asked.value.reason == (
        "611.9 m is beyond the last accepted row at 611.2 m, where nobody may be"
    )
    assert bolt_tests(shift.site) == ()
    assert keep(shift, chainage_m="611.2").known.test.chainage_m == Decimal("611.2")


def test_readings_out_of_reason_are_read_again_before_they_are_kept(shift: Shift) -> None:
    with pytest.raises(KeepItSo, match="from 5 mm at 0 kN to 4 mm at 85 kN"):
        keep(shift, pulled=({**READINGS[0], "displacement_mm": "5"}, READINGS[1]))
    with pytest.raises(KeepItSo, match="The first reading is 2 mm, and all are counted from 0"):
        keep(shift, pulled=({**READINGS[0], "displacement_mm": "2"}, READINGS[1]))
    with pytest.raises(KeepItSo, match="900 N·m is far above 330 N·m"):
        keep(shift, kind="torque", bolt_type="PB24", torque_nm="900", pulled=())

    assert bolt_tests(shift.site) == ()


def test_a_support_bolt_pulled_until_it_gave_is_gone_though_the_test_passed(shift: Shift) -> None:
    reached = [*READINGS, {"load_kn": "120", "displacement_mm": "12"}]
    said = {"kind": "destructive pull", "pulled": reached, "broke": "bar"}
    kept = keep(shift, all_the_same=True, **said)

    assert kept.known.result.outcome == "passed"
    assert (opened(shift).replaced, opened(shift).is_open) == ("to be recorded as damage", True)


def test_a_failed_test_opens_its_neighbours_and_the_bolt_beside_it(shift: Shift) -> None:
    failed = fails(shift, bolt="2/5").known

    assert (opened(shift).which, opened(shift).tests) == ("the 2 nearest bolts", 2)
    assert opened(shift).then == ("neighbours", "batch in doubt", "tell the engineer")
    follows: dict[str, Any] = {"why": "follows a failed test", "after": failed.id}
    keep(shift, bolt="2/4", **follows)
    keep(shift, bolt="2/4", all_the_same=True, **follows)
    assert opened(shift).tests == 1, "one bolt that is pulled twice is one neighbour"
    keep(shift, bolt="2/6", **follows)

    assert (opened(shift).tests, opened(shift).is_open) == (0, True)


def test_who_tests_a_bolt_that_somebody_tested_today_is_asked_and_both_are_kept(
    shift: Shift,
) -> None:
    """A second test counts to no share: it is one bolt. Of another one its number tells it."""
    place: dict[str, Any] = {"chainage_m": "608.4", "round": last_round_of(shift)}
    keep(shift, bolt="1/5", **place)
    due = proof_tests_due(shift)
    with pytest.raises(KeepItSo) as asked:
        keep(shift, bolt="1/5", **place)
    keep(shift, bolt="1/5", all_the_same=True, **place)
    twice = proof_tests_due(shift)
    keep(shift, bolt="1/6", **place)

    assert asked.value.reason == (
        "Geotechnical technician tested bolt 1/5 at 09:30: say its row and number where it is "
        "another, since one bolt counts once"
    )
    assert (len(bolt_tests(shift.site)), due, twice) == (3, 2, 2)
    assert proof_tests_due(shift) == 1


def last_round_of(shift: Shift) -> str:
    known = last_round(shift.site, shift.place(MAIN).id)
    assert known is not None
    return known.id


def test_the_failed_bolt_is_open_until_another_beside_it_is_verified(shift: Shift) -> None:
    """Recorded as damage it has a priority, a due date and a repair that somebody verifies."""
    failed = fails(shift).known
    gone = {
        "heading": failed.heading_id,
        "seen_at": shift.clock(),
        "chainage_m": "590.5",
        "zone": "back",
        "kind": "bolt pulled",
    }
    elsewhere = {**gone, "chainage_m": "592.0"}
    record_damage(shift.site, Damage.model_validate(elsewhere), None)
    assert opened(shift).replaced == "to be recorded as damage"
    assert shift.entry(MAIN).failed_tests
    record_damage(shift.site, Damage.model_validate(gone), None)

    assert opened(shift).replaced == "on the rehab list"
    (left,) = shift.entry(MAIN).failed_tests
    assert left.then == "tell the engineer", "the bolt is dealt with, and nobody was told"


def test_a_failed_test_stands_until_it_is_stated_which_engineer_was_told(shift: Shift) -> None:
    failed = fails(shift).known
    (engineer,) = engineers(shift.site)
    kept = tell_engineer(shift.site, failed.id, engineer, "by radio", shift.who(TECHNICIAN))
    (stands,) = shift.entry(MAIN).failed_tests

    assert stands.then.endswith("Geotechnical engineer was told by radio")
    assert "tell the engineer" not in stands.then
    assert (kept.body.at, kept.entry.author) == (shift.clock(), shift.who(TECHNICIAN).person_id)
    place = {"heading": failed.heading_id, "chainage_m": "590.5", "zone": "back"}
    gone = {**place, "seen_at": shift.clock(), "kind": "bolt pulled"}
    record_damage(shift.site, Damage.model_validate(gone), None)
    assert shift.entry(MAIN).failed_tests == ()


def test_a_failure_that_was_kept_before_it_was_asked_who_was_told_is_left_alone(
    shift: Shift,
) -> None:
    failed = fails(shift).known
    as_before = failed.test.model_copy(update={"tell_engineer": False})
    gone = {
        "heading": failed.heading_id,
        "seen_at": shift.clock(),
        "chainage_m": "590.4",
        "zone": "back",
        "kind": "bolt pulled",
    }
    judged = JudgedTest(failed.id, as_before, failed.result)

    assert failed_support([judged], [Damage.model_validate(gone)]) == ()


def test_failed_cores_are_open_until_their_shotcrete_is_recorded_as_damage(shift: Shift) -> None:
    said: dict[str, Any] = {"kind": "shotcrete cores", "pulled": (), "bolt_type": None}
    keep(shift, cores_mpa=("18", "20", "19"), age_days=28, **said)

    assert (opened(shift).replaced, opened(shift).is_open) == ("to be recorded as damage", True)


def test_a_failed_test_closes_no_heading_by_itself_and_stands_in_its_entry(shift: Shift) -> None:
    before = shift.entry(MAIN)
    failed = fails(shift).known
    after = shift.entry(MAIN)

    assert replace(after, failed_tests=()) == before
    assert [it.test_id for it in after.failed_tests] == [failed.id]
    assert [it.title for it in after.failed_tests] == ["failed proof pull at 590.4 m, back"]
    assert shift.entry(ORE_N).failed_tests == ()


def test_the_batch_of_a_failed_bolt_is_in_doubt_from_the_same_moment(shift: Shift) -> None:
    batch = "RB24-0731"
    kept = fails(shift, batch=batch)
    (doubt,) = in_doubt(shift.site)

    assert (kept.doubted, doubt.label) == (batch, batch)
    assert opened(shift).batch == "in doubt"
    assert doubt.reason == "a bolt of it failed a proof pull test: the anchor slipped at 85.0 kN"
    assert [it.batch for it in shift.entry(MAIN).doubts] == [batch]


def test_a_batch_in_doubt_stays_as_it_was_doubted_first(shift: Shift) -> None:
    fails(shift, batch="RB24-0731")
    known = current(shift.site, "batch", Batch)

    assert fails(shift, batch="RB24-0731", chainage_m="591.0").doubted is None
    assert current(shift.site, "batch", Batch) == known


def test_a_batch_that_nobody_entered_is_kept_in_the_test_alone(shift: Shift) -> None:
    kept = fails(shift, batch="not entered")

    assert (kept.doubted, in_doubt(shift.site)) == (None, ())
    assert opened(shift).batch == "not entered"
    assert kept.known.test.batch == "not entered"


def test_a_passed_test_puts_nothing_in_doubt(shift: Shift) -> None:
    add_batch(shift.site, Batch(label="B-1", of="bolts"), shift.who(TECHNICIAN))

    assert keep(shift, batch="B-1").doubted is None


def test_point_anchored_bolts_are_read_again_ninety_days_after_they_were_put_in(
    shift: Shift,
) -> None:
    known = heading_tests(shift.site, shift.place(ORE_N).id, shift.clock())
    (put_in,) = known.rounds
    (torque,) = (it for it in known.due if it.kind == "torque")

    assert put_in.bolts == {"PB24": 13}
    assert (torque.tests, torque.since) == (1, put_in.at + timedelta(days=90))
    assert not torque.is_due(shift.clock())
