"""A repair: begun behind a barrier, done, and verified by somebody who had no hand in it."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.report.words.label import state_words
from fieldapp.work.called import called
from fieldapp.work.damage.stating import damage_known, damages
from fieldapp.work.demo.story import MAIN
from fieldapp.work.known import Known, current
from fieldapp.work.labels import thing_named
from fieldapp.work.rehab.rehab_list import not_planned, rehab_list
from fieldapp.work.rehab.revisions import rehab_known
from fieldapp.work.rehab.steps import Done, finish, plan, plan_of, propose, start
from fieldapp.work.rehab.troubles import (
    BarrierFirst,
    DoneElsewhere,
    InstallerVerifies,
    NotInThatState,
    NotToBeVerified,
    PhotoOrWhy,
    SeveralRehabs,
)
from fieldapp.work.rehab.verified import refuse, reopen, verify
from fieldapp.work.roles import NotYours
from fieldapp.work.signatures import signatures_that_do_not_fit
from fieldapp.work.writing import state
from schemas.bodies.rehab import Barricade, Rehab
from schemas.short_id import short_id
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift
from tests.unit.work.damage.test_stating import BOLTER, ENGINEER, TECHNICIAN, record

DAY, NIGHT = "Day supervisor", "Night supervisor"
BARRIER = Barricade(who="Bolter, crew A", where="585 m, chain and sign")


def planned(shift: Shift, **said: Any) -> Known[Rehab]:
    """Plan the repair of one tear, S3 under E3."""
    tear = damage_known(shift.site, record(shift, **said).id, shift.clock())
    words = "From supported ground: bar down, sheet, bolt."
    return plan(shift.site, plan_of(tear, words), shift.who(ENGINEER))


def begun(shift: Shift, **said: Any) -> Known[Rehab]:
    found = planned(shift, **said)
    return start(shift.site, found.id, shift.who(BOLTER), barricade=BARRIER, crew="B crew")


def done(shift: Shift, **how: Any) -> Known[Rehab]:
    found = begun(shift)
    shift.wait(hours=2)
    said: dict[str, Any] = {"outcome": "restored", "lap_openings": 3, "after": ("photo",)} | how
    return finish(shift.site, found.id, shift.who(BOLTER), Done(**said))


def verified(shift: Shift, found: Known[Rehab], who: str = TECHNICIAN) -> Known[Rehab]:
    return verify(shift.site, found.id, shift.who(who), CODES[who], barrier_down=True)


def test_a_plan_alone_leaves_entry_as_the_damage_holds_it(shift: Shift) -> None:
    planned(shift)

    assert shift.entry(MAIN).outbye == "restricted"


@pytest.mark.parametrize("who", [BOLTER, TECHNICIAN, DAY])
def test_the_order_of_work_is_the_engineers(shift: Shift, who: str) -> None:
    tear = damage_known(shift.site, record(shift).id, shift.clock())

    with pytest.raises(NotYours):
        plan(shift.site, plan_of(tear), shift.who(who))


def test_what_is_proposed_is_begun_once_an_engineer_has_planned_it(shift: Shift) -> None:
    tear = damage_known(shift.site, record(shift).id, shift.clock())
    found = propose(shift.site, plan_of(tear, "bolt, then sheet"), shift.who(TECHNICIAN))
    with pytest.raises(NotInThatState, match="it is proposed"):
        start(shift.site, found.id, shift.who(BOLTER), barricade=BARRIER)
    shift.wait(minutes=1)
    ordered = plan(shift.site, plan_of(tear, "sheet, then bolt"), shift.who(ENGINEER))

    assert ordered.id == found.id, "it takes the proposal's place"
    (listed,) = [it for it in rehab_list(shift.site, shift.clock()) if it.id == found.id]
    assert listed.rehab is not None
    assert (listed.state, listed.rehab.order_of_work) == ("planned", "sheet, then bolt")
    begun_now = start(shift.site, found.id, shift.who(BOLTER), barricade=BARRIER)
    assert begun_now.body.state == "in hand"


def test_a_bolter_proposes_nothing(shift: Shift) -> None:
    tear = damage_known(shift.site, record(shift).id, shift.clock())

    with pytest.raises(NotYours):
        propose(shift.site, plan_of(tear), shift.who(BOLTER))


def test_a_plan_past_the_rule_counts_as_none(shift: Shift) -> None:
    """As another program could write it, in the name of a technician."""
    tear = damage_known(shift.site, record(shift).id, shift.clock())
    author = shift.who(TECHNICIAN).person_id
    state(shift.site, "rehab", plan_of(tear), author=author)

    assert next(it.state for it in rehab_list(shift.site, shift.clock())) == "not planned"


def test_a_repair_is_found_by_what_stands_on_the_label_of_its_damage(shift: Shift) -> None:
    found = planned(shift)
    (tear,) = found.body.damages
    again = record(shift, again=tear)

    assert rehab_known(shift.site, called(tear)).id == found.id
    assert rehab_known(shift.site, again.id).id == found.id
    shift.wait(minutes=1)
    known = damage_known(shift.site, tear, shift.clock())
    plan(shift.site, plan_of(known, "from the other side"), shift.who(ENGINEER))
    with pytest.raises(SeveralRehabs, match=called(found.id)):
        rehab_known(shift.site, called(tear))


def test_of_a_patch_and_what_is_to_follow_it_the_label_means_what_is_still_to_be_done(
    shift: Shift,
) -> None:
    patched = verified(shift, done(shift, outcome="patched"))
    (tear,) = patched.body.damages
    assert rehab_known(shift.site, tear).id == patched.id
    known = damage_known(shift.site, tear, shift.clock())
    restored = plan(shift.site, plan_of(known, "mesh anew"), shift.who(ENGINEER))

    assert rehab_known(shift.site, called(tear)).id == restored.id


def test_damage_of_one_heading_is_planned_together_over_all_its_stretch(shift: Shift) -> None:
    tear, bag = record(shift), record(shift, kind="bagged mesh", chainage_m="586.0", zone="back")
    first, further = (damage_known(shift.site, it.id, shift.clock()) for it in (tear, bag))
    waiting = not_planned(shift.site, first, shift.clock())
    found = plan(shift.site, plan_of(first, "bolt", waiting), shift.who(ENGINEER)).body

    assert waiting == (further,)
    assert found.damages == (tear.id, bag.id)
    assert (found.from_m, found.to_m) == (Decimal("586.0"), Decimal("590.4"))
    assert found.zones == ("right shoulder", "back")
    assert not_planned(shift.site, first, shift.clock()) == ()


def test_nothing_begins_before_the_barrier_stands(shift: Shift) -> None:
    found = planned(shift)

    with pytest.raises(BarrierFirst):
        start(shift.site, found.id, shift.who(BOLTER), barricade=None)


def test_from_its_start_the_stretch_is_barricaded_until_somebody_else_verified_it(
    shift: Shift,
) -> None:
    found = begun(shift)
    in_hand = shift.entry(MAIN)
    shift.wait(hours=2)
    said = Done("restored", lap_openings=3, after=("photo",))
    finish(shift.site, found.id, shift.who(BOLTER), said)
    not_verified = shift.entry(MAIN)
    verified(shift, found)

    assert (in_hand.state, str(in_hand.line_m)) == ("barricaded", "590.4")
    assert not_verified.because[0].startswith("barricaded: repair done, not yet verified")
    assert shift.entry(MAIN).outbye == "not known"
    assert [it.outcome for it in damages(shift.site, shift.clock())] == ["restored"]


def test_the_verification_is_signed_by_that_person_s_own_key(shift: Shift) -> None:
    found = verified(shift, done(shift))

    assert found.body.signature is not None
    assert signatures_that_do_not_fit(shift.site) == ()


def test_an_installer_verifies_nothing(shift: Shift) -> None:
    found = planned(shift)
    start(shift.site, found.id, shift.who(TECHNICIAN), barricade=BARRIER)
    said = Done("restored", lap_openings=3, after=("photo",))
    finish(shift.site, found.id, shift.who(BOLTER), said)

    with pytest.raises(InstallerVerifies) as caught:
        verified(shift, found)

    assert caught.value.person == TECHNICIAN
    assert verified(shift, found, DAY).body.state == "verified"


def test_whoever_said_that_it_is_done_did_it_whether_they_named_themselves_or_not(
    shift: Shift,
) -> None:
    """As another program could write it."""
    found = begun(shift)
    said = {"state": "done", "installers": (), "outcome": "restored", "after": ("photo",)}
    body = found.body.model_copy(update={**said, "finished_at": shift.clock()})
    author, parents = shift.who(TECHNICIAN).person_id, (found.entry.revision,)
    state(shift.site, "rehab", body, author=author, thing_id=found.id, parents=parents)

    with pytest.raises(InstallerVerifies):
        verified(shift, found)


def test_what_an_installer_signed_past_the_rule_counts_as_not_verified(shift: Shift) -> None:
    """As another program could write it: unsigned, by whoever did the work."""
    found = done(shift)
    body = found.body.model_copy(update={"state": "verified", "barrier_down": True})
    author, parents = shift.who(BOLTER).person_id, (found.entry.revision,)
    state(shift.site, "rehab", body, author=author, thing_id=found.id, parents=parents)

    assert rehab_known(shift.site, found.id).body.state == "done"
    assert shift.entry(MAIN).state == "barricaded"


@pytest.mark.parametrize(
    ("how", "reason"),
    [
        (
            {"after": (), "no_photo_because": "the camera failed"},
            "no photo shows what was done (the camera failed)",
        ),
        ({"lap_openings": None}, "nobody said how far new mesh laps sound old mesh"),
        ({"lap_openings": 2}, "new mesh laps sound old mesh by 2 openings, not by 3"),
    ],
)
def test_a_repair_on_paper_only_is_not_verified(
    shift: Shift, how: dict[str, object], reason: str
) -> None:
    with pytest.raises(NotToBeVerified) as caught:
        verified(shift, done(shift, **how))

    assert caught.value.reason == reason


def test_nobody_says_that_it_is_done_without_a_photo_or_a_reason(shift: Shift) -> None:
    with pytest.raises(PhotoOrWhy):
        done(shift, after=())
    (found,) = current(shift.site, "rehab", Rehab)
    assert found.body.state == "in hand"


def test_a_lap_that_nobody_knew_is_measured_by_whoever_verifies_it(shift: Shift) -> None:
    found = done(shift, lap_openings=None)
    with pytest.raises(NotToBeVerified, match="by 2 openings, not by 3"):
        measured(shift, found, 2)

    assert measured(shift, found, 3).body.lap_openings == 3


def test_a_lap_that_the_crew_measured_short_is_not_measured_away(shift: Shift) -> None:
    with pytest.raises(NotToBeVerified, match="by 2 openings, not by 3"):
        measured(shift, done(shift, lap_openings=2), 4)


def measured(shift: Shift, found: Known[Rehab], openings: int) -> Known[Rehab]:
    return verify(
        shift.site,
        found.id,
        shift.who(TECHNICIAN),
        CODES[TECHNICIAN],
        barrier_down=True,
        lap_openings=openings,
    )


def test_it_is_not_verified_while_the_barrier_still_stands(shift: Shift) -> None:
    found = done(shift)

    with pytest.raises(NotToBeVerified, match="barrier still stands"):
        verify(shift.site, found.id, shift.who(DAY), CODES[DAY], barrier_down=False)


def test_what_is_refused_stays_barricaded_until_it_is_done_again(shift: Shift) -> None:
    found = done(shift)
    refuse(shift.site, found.id, shift.who(DAY), because="a plate is loose")

    assert shift.entry(MAIN).because[0].startswith("barricaded: repair refused")
    again = start(shift.site, found.id, shift.who(BOLTER), barricade=BARRIER)
    assert again.body.state == "in hand"


def test_what_was_restored_never_becomes_overdue(shift: Shift) -> None:
    verified(shift, done(shift))
    shift.wait(days=400)
    (restored,) = damages(shift.site, shift.clock())

    assert restored.outcome == "restored"
    assert restored.ranked.overdue is None
    assert not [it for it in restored.ranked.because if "overdue" in it]


def test_a_label_says_that_its_damage_is_barricaded_while_it_is_repaired(shift: Shift) -> None:
    found = begun(shift, severity="S2", extent={})
    label = thing_named(shift.site, short_id("damage", found.body.damages[0]).readable)

    assert "repair in hand, barricaded." in state_words(shift.site, label, shift.clock())
    assert [it.ranked.holds for it in damages(shift.site, shift.clock())] == ["no entry"]


def test_a_patch_lets_go_as_the_standard_says_and_is_still_to_be_restored(shift: Shift) -> None:
    verified(shift, done(shift, outcome="patched"))
    (known,) = damages(shift.site, shift.clock())

    assert shift.entry(MAIN).outbye == "not known"
    assert (known.outcome, known.ranked.entry) == ("patched", "patched, to be restored")


def test_a_repair_that_does_not_hold_is_reopened_by_anyone(shift: Shift) -> None:
    found = verified(shift, done(shift))
    reopen(shift.site, found.id, None, because="mesh hangs again")

    assert shift.entry(MAIN).state == "no entry, barrier not yet up"
    assert damages(shift.site, shift.clock())[0].outcome is None


def test_damage_seen_again_after_its_repair_holds_entry_again(shift: Shift) -> None:
    found = verified(shift, done(shift))
    shift.wait(days=20)
    record(shift, again=found.body.damages[0])

    assert shift.entry(MAIN).outbye == "restricted"


def test_a_tear_seen_between_the_work_and_its_verification_stays_open(shift: Shift) -> None:
    found = done(shift)
    shift.wait(hours=1)
    record(shift, again=found.body.damages[0])
    verified(shift, found)

    assert shift.entry(MAIN).outbye == "restricted"


def test_what_is_left_of_a_part_done_is_a_repair_of_its_own(shift: Shift) -> None:
    """570 to 590 m planned, 570 to 580 m done, as in the middle of a shift."""
    far = record(shift, chainage_m="588", kind="plate gone", extent={})
    near = record(shift, chainage_m="572", kind="plate gone", extent={})
    body = Rehab(
        heading=near.body.heading,
        damages=(near.id, far.id),
        from_m=Decimal(570),
        to_m=Decimal(590),
        state="planned",
    )
    whole = plan(shift.site, body, shift.who(ENGINEER))
    start(shift.site, whole.id, shift.who(BOLTER), barricade=BARRIER)
    part = Done("restored", part=(Decimal(570), Decimal(580)), after=("photo",))
    finish(shift.site, whole.id, shift.who(BOLTER), part)
    listed = {(it.state, it.from_m, it.to_m) for it in rehab_list(shift.site, shift.clock())}
    verified(shift, whole)
    rest = [it for it in current(shift.site, "rehab", Rehab) if it.body.parent == whole.id]

    assert [(it.body.from_m, it.body.to_m, it.body.damages) for it in rest] == [
        (Decimal(580), Decimal(590), (far.id,))
    ]
    assert listed == {
        ("done", Decimal(570), Decimal(580)),
        ("planned", Decimal(580), Decimal(590)),
    }
    outcomes = {it.id: it.outcome for it in damages(shift.site, shift.clock())}
    assert outcomes == {near.id: "restored", far.id: None}


def test_a_part_done_lies_within_the_repair(shift: Shift) -> None:
    found = begun(shift)
    outside = Done("restored", part=(Decimal(500), Decimal(510)))

    with pytest.raises(DoneElsewhere):
        finish(shift.site, found.id, shift.who(BOLTER), outside)


def test_nothing_is_verified_before_it_is_done(shift: Shift) -> None:
    found = begun(shift)

    with pytest.raises(NotInThatState):
        verified(shift, found)


def test_nobody_takes_a_repair_in_hand_back_to_a_plan(shift: Shift) -> None:
    """As another program could write it: the barrier stays."""
    found = begun(shift)
    body = found.body.model_copy(update={"state": "planned"})
    author, parents = shift.who(ENGINEER).person_id, (found.entry.revision,)
    state(shift.site, "rehab", body, author=author, thing_id=found.id, parents=parents)

    assert shift.entry(MAIN).state == "barricaded"
