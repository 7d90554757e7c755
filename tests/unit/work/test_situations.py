"""Situations of a mine's ordinary month, each with what must come of it.

Common practice of the trade, no source. Left out are those of condition walks, rehab and bolt
tests, and what the README names as a limit.
"""

from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.readings import last_row_m
from fieldapp.work.batches import doubt_batch, rounds_of_batch
from fieldapp.work.demo.story import CUDDY, JUNCTION, MAIN, ORE_N
from fieldapp.work.demo.walking import Look
from fieldapp.work.events import report_event
from fieldapp.work.notices import inspect, restrict
from fieldapp.work.record import record
from fieldapp.work.rounds import look_again
from fieldapp.work.sign import NotToBeAccepted
from fieldapp.work.standard_in_force import adopt, in_force
from schemas.bodies.round import (
    BoltSeen,
    FaceReading,
    LapSeen,
    ProfileSeen,
    ShotcreteSeen,
    SpotCheck,
)
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    FINISHED,
    bundle_of,
    conforming,
    finding,
    length,
    missing,
    with_bolts,
    with_round,
    with_row,
)
from tests.unit.work.conftest import Shift


def test_overbreak_makes_the_line_longer_and_wants_a_bolt_more() -> None:
    """1: the sheet's nine bolts are there, and the rock behind them is wider than drawn."""
    wider = ProfileSeen(width_m=Decimal("5.4"), rise_m=Decimal("2.6"), method="laser")
    found = finding(conforming(profile=wider), "bolts_present")

    assert found.verdict is Verdict.REWORK
    assert "30 demanded" in found.how


@pytest.mark.parametrize(("read", "verdict"), [("1.2", "rework"), ("1.7", "no entry")])
def test_a_face_that_broke_too_far_leaves_the_last_row_too_far_away(
    read: str, verdict: str
) -> None:
    """2 and 3: left, middle and right are kept, and the worst of a ragged face governs."""
    bundle = conforming()
    middle = FaceReading(where="middle", reading=length(read, "staff"))
    face = tuple(middle if it.where == "middle" else it for it in bundle.round.face_readings)
    found = finding(with_round(bundle, face_readings=face), "last_row_to_face")

    assert (found.verdict, found.measured) == (verdict, f"{read}00")
    assert found.places[0].words.endswith("middle")


def test_a_lap_one_opening_short_fails_that_lap_only() -> None:
    """5: two openings of three."""
    bundle = conforming()
    short = LapSeen(number=1, openings=2, held=True)
    laps = tuple(short if it.number == 1 else it for it in bundle.round.laps)
    found = finding(with_round(bundle, laps=laps), "mesh_lap")

    assert found.verdict is Verdict.REWORK
    assert [place.words for place in found.places] == ["lap 1"]
    assert found.fix == ("cover lap 1 with a strip of mesh and plate it",)


def test_bolts_too_short_are_no_bolts_of_the_round() -> None:
    """6: 2.1 m for 2.4 m, told by the pack label."""
    bundle = conforming()
    shorter = bundle.round.bolter.model_copy(update={"bolt_length_m": Decimal("2.1")})
    found = assess(with_round(bundle, bolter=shorter))

    assert not found.may_be_accepted
    assert found.rows_complete_to_m is None


def test_every_round_of_a_bad_batch_is_listed_and_none_is_closed(shift: Shift) -> None:
    """6: found in the store, after the sign-off."""
    before = shift.entry(MAIN)
    doubt_batch(shift.site, "RB24-0731", shift.who(), reason="2.1 m in packs of 2.4 m")
    doubted = {it.body.heading for it in rounds_of_batch(shift.site, "RB24-0731")}

    assert shift.place(MAIN).id in doubted
    assert shift.place(ORE_N).id not in doubted
    assert shift.entry(MAIN).doubts
    assert shift.entry(MAIN).line_m == before.line_m


def test_a_bolt_beside_a_hole_given_up_counts_once() -> None:
    """7: 200 mm beside the blocked hole; the hole itself is no bolt."""
    demanded = Decimal("0.00")
    given_up = BoltSeen(position=5, state="blocked hole")
    beside = BoltSeen(
        position=5,
        state="present",
        plate="seated",
        s_m=demanded + Decimal("0.2"),
        method="tape",
        beside=True,
    )
    whole = with_bolts(conforming(), 2, given_up, beside)
    without = with_bolts(conforming(), 2, given_up)

    assert finding(whole, "bolts_present").measured == "27 of 27"
    assert finding(without, "bolts_present").verdict is Verdict.REWORK


def test_a_bolt_that_broke_at_its_plate_is_void() -> None:
    """8: sheared while it was tensioned."""
    found = finding(
        with_bolts(conforming(), 2, BoltSeen(position=4, state="broken")), "bolts_present"
    )

    assert found.verdict is Verdict.REWORK
    assert found.fix[0].startswith("replace the broken bolt, row 2")


def test_a_plate_that_stands_off_the_rock_is_loose() -> None:
    """9: seen on a bolt that the app drew."""
    stands_off = SpotCheck(position=4, plate_gap="> 20 mm")
    bundle = with_row(conforming(), 2, spot_checks=(stands_off,))

    assert finding(bundle, "plates_seated").verdict is not Verdict.ACCEPT


def test_a_bolt_that_the_boom_could_not_set_square_does_not_count() -> None:
    """10: more than the limit off the normal, in the shoulder."""
    skew = BoltSeen(
        position=2, state="present", plate="seated", angle_deg=Decimal(25), method="tape"
    )
    bundle = with_bolts(conforming(), 2, skew)

    assert finding(bundle, "bolt_angle").verdict is not Verdict.ACCEPT
    assert finding(bundle, "bolts_present").verdict is Verdict.REWORK


def test_the_next_shift_goes_on_with_a_round_half_looked_at(shift: Shift) -> None:
    """12: nothing is open meanwhile, and who signs looked at the rest."""
    half = shift.look(Look(stops_before="count 3"))
    held = record(shift.site, half, shift.who())
    between = shift.entry()
    work = look_again(shift.site, held.id, shift.who("Night supervisor"))
    with pytest.raises(NotToBeAccepted):
        shift.sign(work, "accepted", "Night supervisor")
    signed = shift.sign(work, "sent back", "Night supervisor")

    assert between.line_m < half.seen.joint_m
    assert signed.round.author == shift.who("Night supervisor").person_id
    assert held.entry.author == shift.who().person_id


def test_a_round_is_judged_by_the_revision_that_was_shown(shift: Shift) -> None:
    """13: the standard was revised while the round was being looked at."""
    work = shift.look()
    shown = in_force(shift.site, shift.clock())
    newer = shown.body.model_copy(update={"revision": 6, "effective_from": work.began.started_at})
    adopt(shift.site, newer, shift.who("Geotechnical engineer"))
    body = shift.sign(work).sign_off.body

    assert body.standard == shown.entry.revision
    assert "revision 5" in body.says


def test_a_round_bolted_again_is_one_round_with_its_bolts_counted_once(shift: Shift) -> None:
    """15: the old record is kept, the new one replaces it."""
    signed = shift.sign(shift.look(), "sent back")
    before = shift.entry().coverage.signed_m
    again = shift.sign(look_again(shift.site, signed.round.id, shift.who()))
    seen = again.assessment

    assert len(shift.site.store.ledger.of_thing(signed.round.id)) == 2
    assert next(it for it in seen.findings if it.check == "bolts_present").measured == "45 of 45"
    assert shift.entry().coverage.signed_m > before


def test_an_intersection_waits_for_its_grout(shift: Shift) -> None:
    """16 and 18: long bolts in cement grout count a day after the last of them."""
    bundle = conforming("W3")
    early = bundle_of(bundle.round, as_at=FINISHED)

    assert not assess(early).may_be_accepted
    assert assess(early).rows_complete_to_m is None
    assert assess(bundle).may_be_accepted
    assert shift.entry(JUNCTION).state == "entry allowed"


def test_the_ground_of_an_intersection_is_restricted_until_somebody_says_so(
    shift: Shift,
) -> None:
    """18: machines only while the cables wait for their plates."""
    restrict(shift.site, shift.place(JUNCTION).id, Decimal(50), shift.who(), to="machines only")
    shift.wait(days=30)

    assert shift.entry(JUNCTION).state == "restricted"


def test_fresh_shotcrete_lets_nobody_under_it_and_a_thin_shoulder_is_sprayed_again() -> None:
    """19: by time and by strength, the later."""
    bundle = conforming("W3")
    weak = ShotcreteSeen(
        sprayed_at=FINISHED, thickness_mm=(Decimal(90),) * 3, strength_mpa=Decimal("0.4")
    )
    thin = bundle.round.shotcrete.model_copy(
        update={"thickness_mm": (Decimal(90), Decimal(60), Decimal(90))}
    )

    assert not assess(with_round(bundle, shotcrete=weak)).may_be_accepted
    assert finding(with_round(bundle, shotcrete=thin), "shotcrete_thickness").fix == (
        "spray again where probe 2 is thin",
    )


def test_a_tremor_closes_everything_within_its_radius_until_somebody_has_looked(
    shift: Shift,
) -> None:
    """22: after the exclusion time, and not before an inspection."""
    place = shift.place(MAIN).id
    open_to = shift.entry(MAIN)
    report_event(shift.site, place, "seismic", Decimal(600), None)
    at_once = shift.entry(MAIN)
    shift.wait(hours=13)
    waited = shift.entry(MAIN)
    inspect(shift.site, place, shift.who("Geotechnical technician"), up_to_m=Decimal(612))

    assert [at_once.line_m, waited.line_m] == [Decimal(520)] * 2
    assert shift.entry(MAIN) == open_to


# --- and more ------------------------------------------------------------------------------------


def test_an_old_drive_without_a_record_is_not_known_rather_than_open(shift: Shift) -> None:
    assert shift.entry(MAIN).outbye == "not known"


def test_a_round_fired_and_never_signed_is_shown_as_such(shift: Shift) -> None:
    found = shift.entry(CUDDY).coverage

    assert found.signed_m < found.fired_m
    assert shift.row(CUDDY).mark is Verdict.NOT_LOOKED_AT


def test_a_tablet_two_days_behind_says_nothing_that_opens_ground(shift: Shift) -> None:
    """What it signs after asking counts; what it withdraws counts from the newest entry on."""
    before = shift.entry(MAIN)
    shift.wait(days=-2)
    report_event(shift.site, shift.place(MAIN).id, "fired", before.face_m, None)
    shift.wait(days=2)

    assert shift.entry(MAIN).line_m < before.line_m


def test_two_bolts_missing_side_by_side_are_no_entry_whatever_covers_them() -> None:
    found = finding(with_bolts(conforming(), 2, missing(4), missing(5)), "neighbouring_bolts")

    assert found.verdict is Verdict.NO_ENTRY


def test_a_second_signature_of_the_owner_stands_on_its_own_look(shift: Shift) -> None:
    """Contractor and owner both sign: the later look is the one that counts."""
    first = shift.sign(shift.look())
    work = look_again(shift.site, first.round.id, shift.who("Geotechnical engineer"))
    shift.sign(work, "accepted", "Geotechnical engineer")

    assert shift.entry().state == "entry allowed"
    assert shift.entry().line_m == last_row_m(work.seen)
