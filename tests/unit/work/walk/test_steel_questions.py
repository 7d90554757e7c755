"""What is asked of steel that is read on a walk: what was read there last stands beside it."""

from dataclasses import replace

from fieldapp.work.asked import Digits
from fieldapp.work.walk.questions import section_question
from fieldapp.work.walk.steel_before import SteelBefore
from schemas.bodies.walk import SteelRead
from tests.unit.work.conftest import Shift
from tests.unit.work.walk.test_questions import answered, typed
from tests.unit.work.walking import alone, here


def test_a_reading_thicker_than_new_is_asked_about_until_it_can_be(shift: Shift) -> None:
    known = here(shift)
    steel = {"zone": "back", "chainage_m": "3.4", "of": "steel"}
    section, _ = answered(alone({"thing": steel}), known, "wire", "calliper")
    section = typed(section, known, "5.9")
    asked = section_question(section, known)
    section, again = answered(section, known, "Read again")
    section = typed(section, known, "5.1")
    section, after = answered(section, known, "no")

    assert asked is not None
    assert asked.ask == "5.9 mm is thicker than new, 5.6 mm. Which is wrong?"
    assert again is not None
    assert again.key == "read_mm"
    assert after is not None
    assert after.key == "done"
    assert section.seen is not None
    (read,) = section.seen.steel
    assert (str(read.read_mm), str(read.original_mm), read.zinc_seen) == ("5.1", "5.6", False)
    assert read.read_at is not None, "when it was touched"


def test_a_slip_of_the_pad_is_asked_about_beside_the_last_reading(
    shift: Shift,
) -> None:
    """1.8 mm of 20 for 18.0: kept so, less than must be left, so it is damage on the spot."""
    bar = {"steel": "bar", "part": "bolts", "zone": "back", "chainage_m": "3.4", "s_m": "0.2"}
    size = {"original_mm": "20", "read_mm": "18.03", "u_mm": "0.05", "how": "calliper"}
    last = SteelBefore(SteelRead.model_validate(bar | size), shift.clock())
    known = replace(here(shift), steel=(last,))
    thing = {"zone": "back", "chainage_m": "3.5", "of": "steel", "steel": "bar", "part": "bolts"}
    section = alone({"thing": thing | {"original_mm": "20"}})
    section, pad = answered(section, known, "calliper")
    slipped = typed(section, known, "1.8")
    asked = section_question(slipped, known)
    _, again = answered(slipped, known, "Read again")
    kept, damage = answered(slipped, known, "Keep it so", "no")

    assert pad is not None
    assert isinstance(pad.digits, Digits)
    assert pad.digits.limit == "last time 18.03 mm, 6 May 2031; new: 20 mm"
    assert asked is not None
    assert asked.ask == "1.8 mm of 20: read it again?"
    assert asked.hint == "It is less than half of last time, 18.03 mm."
    assert again is not None
    assert again.key == "read_mm"
    assert kept.seen is not None
    assert kept.seen.steel[0].read_twice is True
    assert damage is not None
    assert damage.ask == "Record it as damage now."
    assert damage.hint == "Bar of 20 mm read 1.8 mm, less than must be left by the standard."


def test_a_reading_within_its_doubt_of_what_must_be_left_is_asked_for_again(shift: Shift) -> None:
    """70 % of a wire of 5.6 mm are left at 4.685 mm; a calliper's 4.72 is off by 0.1 at most."""
    steel = {"zone": "back", "chainage_m": "3.4", "of": "steel"}
    known = here(shift)
    section, _ = answered(alone({"thing": steel}), known, "wire", "calliper")
    asked = section_question(typed(section, known, "4.72"), known)
    sure = section_question(typed(section, known, "4.80"), known)

    assert asked is not None
    assert asked.ask == "4.72 mm of 5.6: read it again?"
    assert sure is not None
    assert sure.key == "zinc_seen"


def test_a_piece_that_was_read_before_is_offered_again_where_it_lies(shift: Shift) -> None:
    """A finger misses it on the drive: read half a metre away it would be another piece."""
    wire = {"steel": "wire", "part": "mesh", "zone": "back", "chainage_m": "3", "s_m": "0.2"}
    size = {"original_mm": "5.6", "read_mm": "5.31", "u_mm": "0.05", "how": "calliper"}
    newest, older, elsewhere, beyond = (
        SteelBefore(SteelRead.model_validate(wire | size | it), shift.clock())
        for it in ({}, {"read_mm": "5.4"}, {"zone": "left wall"}, {"chainage_m": "12"})
    )
    known = replace(here(shift), steel=(newest, older, elsewhere, beyond))
    touched = {"zone": "back", "chainage_m": "4.2", "s_m": "0.9", "of": "steel"}
    asked = section_question(alone({"thing": touched}), known)
    section, pad = answered(alone({"thing": touched}), known, "wire again", "calliper")
    section, _ = answered(typed(section, known, "5.28"), known, "no")

    assert asked is not None
    assert [(it.label, it.note) for it in asked.choices][:2] == [
        ("wire again", "3.0 m, 5.31 mm"),
        ("wire", "mesh"),
    ]
    assert pad is not None
    assert pad.hint == "Last time: 5.31 mm, 6 May 2031. New: 5.6 mm."
    assert section.seen is not None
    (read,) = section.seen.steel
    assert (read.chainage_m, read.s_m) == (newest.read.chainage_m, newest.read.s_m)
