"""What was said of damage is put right on the tablet; what was said before is kept beside it."""

from decimal import Decimal

import pytest

from fieldapp.ui.damage_work import damage_page
from fieldapp.work.damage.correcting import question_of_correction
from fieldapp.work.damage.draft import (
    DamageWork,
    begin_correction,
    begin_damage,
    keep_damage,
    undo_damage,
)
from fieldapp.work.damage.stating import NoSuchDamage, damages
from fieldapp.work.demo.story import MAIN
from fieldapp.work.roles import NotYours
from fieldapp.work.share.disputes import disputes
from fieldapp.work.standard_in_force import in_force
from tests.unit.work.conftest import Shift
from tests.unit.work.damage.test_draft import told
from tests.unit.work.damage.test_stating import BOLTER, TECHNICIAN, record

FACE_M = Decimal(612)


def asked(shift: Shift, work: DamageWork) -> str:
    return question_of_correction(work, in_force(shift.site, shift.clock()).body, FACE_M).key


def test_what_was_stated_stands_there_to_be_put_right(shift: Shift) -> None:
    work = begin_correction(shift.site, record(shift).id)
    question = question_of_correction(work, in_force(shift.site, shift.clock()).body, FACE_M)

    stated = {it.note: it.label for it in question.choices}
    assert stated["what it is"] == "torn mesh"
    assert stated["where it begins"] == "590.4 m"
    assert stated["where it ends"] == "at one place"
    assert (stated["openings long"], stated["above the floor"]) == ("6", "2.4 m")
    assert (stated["how grave"], stated["age"]) == ("S3", "?")


def test_what_is_put_right_counts_and_what_was_stated_is_kept(shift: Shift) -> None:
    known = record(shift, severity="S5")
    closed = shift.entry(MAIN).state
    shift.wait(hours=1)
    work = told(shift, begin_correction(shift.site, known.id), {"anew": "severity"})
    reask = asked(shift, work)
    work = told(shift, work, {"severity": "S1"}, {"anew": "openings"})
    work = told(shift, work, {"extent": {"openings": 1}})
    kept = keep_damage(shift.site, work, shift.who(TECHNICIAN))

    assert (closed, reask) == ("no entry, barrier not yet up", "severity")
    assert (kept.id, kept.entry.parents) == (known.id, (known.entry.revision,))
    assert (kept.body.severity, kept.body.extent.openings) == ("S1", 1)
    assert kept.body.seen_at == known.body.seen_at, "it is seen no later for being put right"
    assert kept.body.extent.above_floor == known.body.extent.above_floor
    assert shift.site.store.ledger.get(known.entry.revision) == known.entry
    assert shift.entry(MAIN).state != closed
    (damage,) = damages(shift.site, shift.clock())
    assert (len(damage.damage.seen), disputes(shift.site)) == (1, ())


def test_a_reading_is_asked_anew_with_how_it_is_read(shift: Shift) -> None:
    work = begin_correction(shift.site, record(shift).id)
    work = told(shift, work, {"anew": "above_floor"})
    first = asked(shift, work)
    work = told(shift, work, {"how": "tape"})

    assert (first, asked(shift, work)) == ("how", "above_floor")


def test_what_a_photo_or_a_terminal_told_is_put_right_too(shift: Shift) -> None:
    extent = {
        "width": {"value_mm": "300", "how": "tape"},
        "area": {"value_m2": "0.5", "how": "eye"},
    }
    work = begin_correction(shift.site, record(shift, extent=extent, note="by the niche").id)
    question = question_of_correction(work, in_force(shift.site, shift.clock()).body, FACE_M)
    stated = {it.note: it.label for it in question.choices}
    assert (stated["width"], stated["area"]) == ("300 mm", "0.5 m²")
    assert (stated["note"], stated["length"]) == ("by the niche", "?")

    work = told(shift, work, {"anew": "width"}, {"how": "tape"})
    width = asked(shift, work)
    work = told(shift, work, {"extent": {"width": {"value_mm": "500", "how": "tape"}}})
    work = told(shift, work, {"anew": "note"})
    note = asked(shift, work)
    kept = keep_damage(shift.site, told(shift, work, {"note": ""}), shift.who(TECHNICIAN))

    assert (width, note) == ("width", "note")
    assert kept.body.extent.width is not None
    assert (str(kept.body.extent.width.value_mm), kept.body.note) == ("500", "")
    assert kept.body.extent.area is not None, "what was not touched stays"


def test_nothing_is_kept_that_was_not_changed_or_is_left_open(shift: Shift) -> None:
    work = begin_correction(shift.site, record(shift).id)
    open_again = told(shift, work, {"anew": "severity"})
    answered = told(shift, open_again, {"severity": "S4"})

    def can_keep(work: DamageWork) -> bool:
        return damage_page(shift.site, work, shift.who(TECHNICIAN)).can_keep

    assert [can_keep(it) for it in (work, open_again, answered)] == [False, False, True]
    assert undo_damage(shift.site, undo_damage(shift.site, answered, None), None).said == work.said


def test_the_power_cut_brings_the_correction_back(shift: Shift) -> None:
    known = record(shift)
    work = told(shift, begin_correction(shift.site, known.id), {"anew": "severity"})
    shift.reopened()

    assert begin_correction(shift.site, known.id) == work
    again = begin_damage(shift.site, known.body.heading, known.id)
    assert again.about.corrects is None, "to see it again is no correction"


def test_what_it_comes_to_is_shown_without_what_was_wrong(shift: Shift) -> None:
    work = begin_correction(shift.site, record(shift, severity="S5").id)
    work = told(shift, work, {"anew": "severity"}, {"severity": "S1"})
    shown = damage_page(shift.site, work, shift.who(TECHNICIAN)).rank.title
    keep_damage(shift.site, work, shift.who(TECHNICIAN))
    (damage,) = damages(shift.site, shift.clock())

    assert shown.startswith(f"{damage.ranked.code}, ")


@pytest.mark.parametrize("who", [BOLTER, None])
def test_a_bolter_or_nobody_keeps_no_correction(shift: Shift, who: str | None) -> None:
    known = record(shift)
    work = told(shift, begin_correction(shift.site, known.id), {"severity": "S1"})

    with pytest.raises(NotYours):
        keep_damage(shift.site, work, shift.who(who) if who else None)
    (damage,) = damages(shift.site, shift.clock())
    assert damage.newest == known.body


def test_what_nobody_observed_is_not_put_right(shift: Shift) -> None:
    with pytest.raises(NoSuchDamage):
        begin_correction(shift.site, "nothing")
