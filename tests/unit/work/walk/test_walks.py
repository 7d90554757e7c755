"""What a condition walk may say, who walks, and what must not be lost in it."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.work.damage.stating import damages, record_damage
from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.rechain import rechain, what_moves
from fieldapp.work.roles import NotYours
from fieldapp.work.walk.section_history import section_known
from fieldapp.work.walk.walks import (
    GraveNotRecorded,
    OpenDamageNotTold,
    WalkRefused,
    on_the_same_day,
    record_walk,
    walks,
)
from schemas.bodies.damage import Damage
from tests.unit.work.conftest import Shift
from tests.unit.work.walking import TECHNICIAN, recorded, section, walk

WIRE = {
    "steel": "wire",
    "part": "mesh",
    "zone": "back",
    "chainage_m": "133.4",
    "original_mm": "5.6",
    "read_mm": "5.1",
    "u_mm": "0.05",
    "how": "calliper",
}

BAR = WIRE | {"steel": "bar", "part": "bolts", "original_mm": "20"}
LATER = "2031-06-06T09:00:00Z"


def part(**said: Any) -> dict[str, Any]:
    return {"part": "mesh", "zone": "left shoulder", "chainage_m": "133.4"} | said


def new(**said: Any) -> dict[str, Any]:
    return section(answer="something new", **said)


def test_a_walk_is_kept_with_the_standard_whose_cards_were_shown(shift: Shift) -> None:
    kept = recorded(shift)

    assert [it.id for it in walks(shift.site, shift.place(MAIN).id)] == [kept.id]
    assert kept.body.heading == shift.place(MAIN).id
    assert kept.body.standard is not None


@pytest.mark.parametrize(
    ("said", "why"),
    [
        (section(from_m="620", to_m="630"), "beyond the face"),
        (section(to_m="130"), "has no length"),
        (section(at="2031-05-06T09:40:00Z"), "outside the time of the walk"),
        (section(answer="not reached"), "not said why"),
        (section(answer="not reached", not_reached="water", in_full=["back"]), "seen there"),
        (new(), "not said what"),
        (new(parts=[part(chainage_m="150.0")]), "is not in the section"),
        (new(parts=[part(severity="S9")]), "no severity S9"),
        (new(steel=[WIRE | {"read_mm": "5.71"}]), "thicker than new"),
        (new(steel=[WIRE | {"read_mm": "0"}]), "is nothing at all; read it again"),
        (new(steel=[WIRE | {"read_mm": "2.79"}]), "less than half of new, 5.6 mm; read it again"),
        (new(damages=["0" * 36]), "names damage that is not known"),
    ],
)
def test_what_cant_be_is_refused(shift: Shift, said: dict[str, Any], why: str) -> None:
    with pytest.raises(WalkRefused) as refused:
        recorded(shift, said)

    assert why in refused.value.reason
    assert walks(shift.site, shift.place(MAIN).id) == ()


def test_a_reading_larger_than_the_original_by_no_more_than_its_doubt_is_kept(
    shift: Shift,
) -> None:
    """Twice the standard uncertainty covers 95 % (JCGM 100:2008, 6.3.3): 5.6 + 2 × 0.05."""
    kept = recorded(shift, new(steel=[WIRE | {"read_mm": "5.70"}]))

    assert kept.body.sections[0].steel[0].read_mm == Decimal("5.70")


def test_a_slip_of_the_pad_is_refused_against_the_last_reading_of_the_place(shift: Shift) -> None:
    """1.8 for 18.0. The worst air of the demo's standard takes 1.4 mm off a bar in a year."""
    recorded(shift, new(steel=[BAR | {"read_mm": "18.70"}]))
    shift.wait(days=31)
    month = {"began_at": LATER, "ended_at": LATER, "month": "2031-06"}

    def again(read_mm: str, **said: Any) -> None:
        steel = [BAR | {"chainage_m": "133.6", "read_mm": read_mm} | said]
        recorded(shift, new(at=LATER, steel=steel), **month)

    with pytest.raises(WalkRefused) as slipped:
        again("1.8")
    with pytest.raises(WalkRefused) as faster_than_rust:
        again("18.30")
    assert "less than half of last time, 18.70 mm" in slipped.value.reason
    assert "than rust explains since last time, 18.70 mm" in faster_than_rust.value.reason
    again("18.45")
    again("18.20", read_twice=True, chainage_m="139.0")
    assert len(walks(shift.site, shift.place(MAIN).id)) == 3


def test_steel_that_was_surely_read_too_thin_is_recorded_as_damage_on_the_spot(
    shift: Shift,
) -> None:
    """80 % of a bar of 20 mm are left at 17.889 mm; 17.78 + 2 × 0.05 mm lies below it."""
    with pytest.raises(GraveNotRecorded) as refused:
        recorded(shift, new(steel=[BAR | {"read_mm": "17.78"}]))
    assert refused.value.where == (
        "the section 130 to 140 m, back: bar of 20 mm read 17.78 mm, less than must be left"
    )
    recorded(shift, new(steel=[BAR | {"read_mm": "17.80"}]))
    rusted = {**OPEN, "kind": "rusted", "seen_at": shift.clock()}
    damage = record_damage(shift.site, Damage.model_validate(rusted), None)
    thin = new(steel=[BAR | {"read_mm": "17.78"}], damages=[damage.id])
    assert recorded(shift, thin).body.sections[0].damages == (damage.id,)


def test_a_walk_by_a_standard_that_nobody_here_knows_is_refused(shift: Shift) -> None:
    """Its codes would be read by the cards of another one."""
    with pytest.raises(WalkRefused) as refused:
        recorded(shift, standard="f" * 64)

    assert "standard" in refused.value.reason
    assert "not known here" in refused.value.reason


def test_a_walk_of_the_future_or_one_that_ends_before_it_begins_is_refused(shift: Shift) -> None:
    for said in ({"ended_at": "2031-05-06T09:31:00Z"}, {"began_at": "2031-05-06T09:31:00Z"}):
        with pytest.raises(WalkRefused):
            recorded(shift, **said)


def test_ground_that_was_not_supported_yet_was_not_walked(shift: Shift) -> None:
    """The last round of the Main, at 608 m, was looked at three hours before the present."""
    early = {"began_at": "2031-05-05T08:00:00Z", "ended_at": "2031-05-05T09:00:00Z"}
    at = "2031-05-05T08:30:00Z"

    with pytest.raises(WalkRefused) as refused:
        recorded(shift, section(from_m="600", to_m="610", at=at), **early)

    assert "before its support was put up" in refused.value.reason
    kept = recorded(shift, section(from_m="590", to_m="600", at=at), **early)
    assert kept.body.sections[0].to_m == 600


def test_a_walk_is_held_against_face_and_rounds_by_the_chainages_it_was_walked_by(
    shift: Shift,
) -> None:
    """The face at 612 m reads 602 m once 500 m and what lies inbye of it is 10 m less."""
    walked = section(from_m="600", to_m="606", at="2031-05-06T09:00:00Z")
    shift.wait(hours=1)
    engineer = shift.who("Geotechnical engineer")
    rechain(shift.site, what_moves(shift.site, MAIN, Decimal(600), Decimal(-10), engineer))
    shift.wait(hours=1)

    assert recorded(shift, walked).body.sections[0].to_m == 606
    read_now = section(from_m="600", to_m="606", at=f"{shift.clock():%Y-%m-%dT%H:%M:%SZ}")
    with pytest.raises(WalkRefused) as refused:
        recorded(shift, read_now, ended_at=shift.clock())
    assert "beyond the face at 602" in refused.value.reason


def test_one_stretch_is_answered_once_in_a_walk(shift: Shift) -> None:
    with pytest.raises(WalkRefused) as refused:
        recorded(shift, section(), section(from_m="135", to_m="145"))

    assert "partly the same ground" in refused.value.reason


def test_chainages_that_were_read_by_old_marks_are_kept_as_read(shift: Shift) -> None:
    """611.4 m as it was read is 612.6 m today: beyond the face at 612 m by less than a metre."""
    said = section(from_m="605", to_m="611.4")
    kept = recorded(shift, said, rechained_by_m="1.2")

    assert kept.body.sections[0].to_m == Decimal("611.4")
    with pytest.raises(WalkRefused):
        recorded(shift, said, rechained_by_m="2.2")


def test_what_holds_entry_is_recorded_as_damage_or_the_walk_is_not_kept(shift: Shift) -> None:
    """S3 where nobody said who is beneath counts as E4: P1 by the demo's table."""
    torn = new(parts=[part(severity="S3")])
    with pytest.raises(GraveNotRecorded) as refused:
        recorded(shift, torn)
    damage = record_damage(
        shift.site,
        Damage.model_validate(
            {
                "heading": shift.place(MAIN).id,
                "seen_at": shift.clock(),
                "chainage_m": "133.4",
                "zone": "left shoulder",
                "kind": "torn mesh",
                "severity": "S3",
            }
        ),
        shift.who(TECHNICIAN),
    )

    assert "130 to 140 m, left shoulder" in refused.value.where
    kept = recorded(shift, torn | {"damages": [damage.id]})
    assert kept.body.sections[0].damages == (damage.id,)


def test_mesh_that_hangs_too_far_holds_entry_whatever_else_was_judged(shift: Shift) -> None:
    with pytest.raises(GraveNotRecorded):
        recorded(shift, new(parts=[part(bag_depth_mm="400", severity="S0")]))
    kept = recorded(shift, new(parts=[part(bag_depth_mm="100")]))
    assert kept.body.sections[0].parts[0].bag_depth_mm == 100


@pytest.mark.parametrize("who", [TECHNICIAN, "Geotechnical engineer", "Day supervisor"])
def test_technician_engineer_and_supervisor_walk(shift: Shift, who: str) -> None:
    kept = record_walk(shift.site, walk(), shift.who(who))

    assert kept.entry.author == shift.who(who).person_id


def test_nobody_else_walks(shift: Shift) -> None:
    for who in (shift.who("Bolter, crew A"), None):
        with pytest.raises(NotYours):
            record_walk(shift.site, walk(), who)


def test_a_sample_of_which_more_was_told_than_drawn_is_refused(shift: Shift) -> None:
    sample = {
        "of": "bolts",
        "stratum": "D1, back",
        "there": 120,
        "drawn": 47,
        "looked_at": 45,
        "not_reached": 3,
        "bad": 0,
    }
    with pytest.raises(WalkRefused):
        recorded(shift, looked_at=[sample])

    assert recorded(shift, looked_at=[sample | {"not_reached": 2}]).body.looked_at


def test_two_people_on_one_place_on_one_day_are_both_kept_and_told(shift: Shift) -> None:
    first = recorded(shift)
    second = walk(section(from_m="135", to_m="145"), heading=shift.place(MAIN).id)
    engineer = shift.who("Geotechnical engineer")
    (other,) = on_the_same_day(shift.site, second, engineer.person_id)

    assert (other.author, other.sections) == (first.entry.author, 1)
    record_walk(shift.site, second, engineer)
    assert len(walks(shift.site, shift.place(MAIN).id)) == 2
    assert on_the_same_day(shift.site, walk(heading=shift.place(READY).id), None) == ()


BEFORE = "2031-05-06T08:00:00Z"
OPEN = {"heading": MAIN, "zone": "back", "kind": "torn mesh", "chainage_m": "133.4"}


@pytest.mark.parametrize("said", ["nothing new", "S0 in full"])
def test_a_walk_that_says_nothing_of_open_damage_is_asked_what_became_of_it(
    shift: Shift, said: str
) -> None:
    known = record_damage(shift.site, Damage.model_validate({**OPEN, "seen_at": BEFORE}), None)
    shift.wait(minutes=40)
    sound = part(zone="back", severity="S0", corrosion_grade=0)
    look = section() if said == "nothing new" else section(in_full=["back"], parts=[sound])

    with pytest.raises(OpenDamageNotTold) as asked:
        recorded(shift, look)
    assert asked.value.where.startswith("torn mesh at 133.4 m, back")
    kept = recorded(shift, look | {"open_damage": [{"damage": known.id, "said": "repaired"}]})

    assert kept.body.sections[0].open_damage[0].said == "repaired"
    (still,) = damages(shift.site, shift.clock(), shift.place(MAIN).id)
    assert still.outcome is None


def test_a_section_that_was_only_begun_is_kept_with_what_it_does_not_say_of_open_damage(
    shift: Shift,
) -> None:
    """It says so itself and stays due: the walk of the other sections is not held back."""
    record_damage(shift.site, Damage.model_validate({**OPEN, "seen_at": BEFORE}), None)
    shift.wait(minutes=40)
    asked = "Open damage: torn mesh. Still so?"
    kept = recorded(shift, section(unanswered=[asked]))

    assert kept.body.sections[0].unanswered == (asked,)
    known = section_known(shift.site, shift.place(MAIN).id, Decimal(130))
    assert known is not None
    assert [it.whole for it in known.looks if it.walk_id == kept.id] == [False], "it stays due"


def test_damage_elsewhere_or_seen_since_the_walk_began_asks_nothing(shift: Shift) -> None:
    elsewhere = {**OPEN, "seen_at": BEFORE, "chainage_m": "151.0"}
    since = {**OPEN, "seen_at": "2031-05-06T09:10:00Z"}
    for said in (elsewhere, since):
        record_damage(shift.site, Damage.model_validate(said), None)
    shift.wait(minutes=40)

    assert recorded(shift).body.sections[0].open_damage == ()
