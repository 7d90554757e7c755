"""Damage half entered is on the disk, counts as nothing, and comes back at the same place."""

from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from fieldapp.work.asked import Asked, Digits
from fieldapp.work.damage.draft import (
    DamageWork,
    begin_correction,
    begin_damage,
    begun_damages,
    keep_damage,
    keep_damage_touch,
    let_go,
    open_damage,
    undo_damage,
)
from fieldapp.work.damage.questions import (
    Near,
    measured_on_photo,
    question_now,
)
from fieldapp.work.damage.stating import damages
from fieldapp.work.demo.story import MAIN
from fieldapp.work.photo.photographs import keep_photo
from fieldapp.work.rounds import open_rounds
from fieldapp.work.said_touches import SaidTouch
from fieldapp.work.standard_in_force import in_force
from tests.photos.taken import taken
from tests.unit.work.conftest import Shift
from tests.unit.work.damage.test_stating import TECHNICIAN, record

PLACE: tuple[dict[str, Any], ...] = (
    {"kind": "torn mesh"},
    {"chainage_m": "590.4", "s_m": "2.6", "zone": "right shoulder"},
)
ALL: tuple[dict[str, Any], ...] = (
    *PLACE,
    {"to_m": None},
    {"extent": {"openings": 4}},
    {"how": "tape"},
    {"extent": {"above_floor": {"value_m": "2.5", "how": "tape"}}},
    {"severity": "S3"},
    {"rock_behind": "loose"},
    {"exposure": "E3"},
    {"cause": None},
    {"age": None},
)


AREA = Decimal("0.152"), Decimal("0.008")
"""In m², to its thousandth, as a photo gives it."""


def told(shift: Shift, work: DamageWork, *says: dict[str, Any]) -> DamageWork:
    by = shift.who(TECHNICIAN).person_id
    for it in says:
        touch = SaidTouch(at=shift.clock(), by=by, says=it)
        work = keep_damage_touch(shift.site, work, touch)
    return work


def begun(shift: Shift, *says: dict[str, Any]) -> DamageWork:
    return told(shift, begin_damage(shift.site, shift.place(MAIN).id), *says)


def question_of(shift: Shift, work: DamageWork, *near: Near) -> Asked | None:
    standard = in_force(shift.site, shift.clock()).body
    return question_now(work, standard, near, Decimal(612))


def asked(shift: Shift, work: DamageWork, *near: Near) -> str | None:
    question = question_of(shift, work, *near)
    return question.key if question else None


def test_what_was_touched_before_the_power_was_cut_is_there_again(shift: Shift) -> None:
    work = begun(shift, *PLACE)
    shift.reopened()

    assert open_damage(shift.site, shift.place(MAIN).id) == work
    assert begin_damage(shift.site, shift.place(MAIN).id) == work


def test_nothing_of_it_counts_before_it_is_kept(shift: Shift) -> None:
    before = shift.entry(MAIN)
    work = begun(shift, *ALL)

    assert shift.entry(MAIN) == before
    kept = keep_damage(shift.site, work, shift.who(TECHNICIAN))
    assert kept.id == work.damage_id, "its photos name it already"
    assert shift.entry(MAIN).outbye == "restricted"
    assert open_damage(shift.site, shift.place(MAIN).id) is None


def test_a_draft_of_damage_is_none_of_a_round(shift: Shift) -> None:
    before = open_rounds(shift.site)
    begun(shift, *PLACE)

    assert open_rounds(shift.site) == before


def test_undo_goes_back_through_all_of_it(shift: Shift) -> None:
    work = begun(shift, *ALL)
    for _each in ALL:
        work = undo_damage(shift.site, work, None)

    assert (work.said, work.can_undo) == ({}, False)
    assert undo_damage(shift.site, work, None) == work


def test_it_was_seen_when_it_was_begun_not_when_it_was_kept(shift: Shift) -> None:
    began_at = shift.clock()
    work = begun(shift, *ALL)
    shift.wait(hours=3)

    assert keep_damage(shift.site, work, None).body.seen_at == began_at


def test_what_was_not_measured_stays_unknown(shift: Shift) -> None:
    unread = ({"to_m": None}, {"extent": {"openings": None}}, {"how": "eye"})
    work = begun(shift, *PLACE, *unread)
    work = told(shift, work, {"extent": {"above_floor": None}}, {"severity": None})
    damage = work.damage

    assert damage is not None
    assert (damage.extent.openings, damage.extent.above_floor, damage.severity) == (None,) * 3
    assert asked(shift, work) == "rock_behind", "said to be unknown, it is not asked again"


def test_each_thing_is_asked_once_the_place_before_how_grave_it_is(shift: Shift) -> None:
    work, keys = begun(shift), []
    for says in ALL:
        keys.append(asked(shift, work))
        work = told(shift, work, says)

    assert keys == [
        "kind",
        "chainage_m",
        "to_m",
        "openings",
        "how",
        "above_floor",
        "severity",
        "rock_behind",
        "exposure",
        "cause",
        "age",
    ]
    assert asked(shift, work) is None


def test_a_place_without_a_side_asks_for_the_zone(shift: Shift) -> None:
    assert asked(shift, begun(shift, {"kind": "rusted"}, {"chainage_m": "590.4"})) == "zone"


@pytest.mark.parametrize("typed", ["596.0", "584.8"])
def test_whichever_end_was_stated_first_it_ends_further_inbye(shift: Shift, typed: str) -> None:
    work = begun(shift, *PLACE)
    question = question_now(work, None, (), Decimal(612))
    assert question is not None
    assert isinstance(question.digits, Digits)
    limit = question.digits.limit
    kept = keep_damage(shift.site, told(shift, work, question.digits.says(Decimal(typed))), None)

    ends = sorted((Decimal("590.4"), Decimal(typed)))
    assert [kept.body.chainage_m, kept.body.to_m] == ends
    assert limit == "it is at 590.4 m; the face is at 612 m"
    (known,) = damages(shift.site, shift.clock())
    assert [known.from_m, known.to_m] == ends


def test_where_another_place_is_touched_its_end_is_asked_anew(shift: Shift) -> None:
    work = begun(shift, *PLACE, {"to_m": "596.0"}, {"chainage_m": "600.2"})

    assert asked(shift, work) == "to_m"


def test_damage_that_is_known_near_there_is_asked_about(shift: Shift) -> None:
    known = Near("id", "torn mesh", "590.1 m, back")

    assert asked(shift, begun(shift, *PLACE), known) == "again"


def test_bagged_mesh_is_asked_how_far_it_hangs_and_what_it_carries(shift: Shift) -> None:
    place = {"chainage_m": "590.4", "zone": "back"}
    work = begun(shift, {"kind": "bagged mesh"}, place, {"to_m": None}, {"how": "tape"})
    first = asked(shift, work)
    work = told(shift, work, {"extent": {"bag_depth": {"value_mm": "200", "how": "tape"}}})

    assert (first, asked(shift, work)) == ("bag_depth", "loose_mass")


def test_what_no_photo_gives_is_judged_by_eye(shift: Shift) -> None:
    """A hole is asked how high it is, or nobody could say that people walk beneath it."""
    read = {"to_m": None}, {"extent": {"openings": 3}}, {"how": "photo"}
    torn = begun(shift, *PLACE, *read)
    bag, place = {"kind": "bagged mesh"}, {"chainage_m": "590.4", "to_m": None, "zone": "back"}

    question = question_of(shift, torn)
    assert question is not None
    assert (question.key, question.hint) == ("above_floor", "Read by eye.")
    assert question.choices[0].says == {
        "extent": {"above_floor": {"value_m": "1.5", "how": "eye"}}
    }
    let_go(shift.site, torn)
    assert asked(shift, begun(shift, bag, place, {"how": "photo"})) == "bag_depth"


def test_damage_seen_again_begins_where_it_is_and_what_it_is(shift: Shift) -> None:
    known = record(shift)
    shift.wait(days=30)
    work = begin_damage(shift.site, shift.place(MAIN).id, known.id)

    assert asked(shift, work) == "to_m", "whether it grew along the drive"
    kept = keep_damage(shift.site, work, shift.who(TECHNICIAN))
    (damage,) = damages(shift.site, shift.clock())
    assert (kept.body.again, len(damage.damage.seen)) == (known.id, 2)
    assert kept.body.seen_at - known.body.seen_at == timedelta(days=30)


def test_what_was_begun_waits_while_other_damage_of_the_heading_is_seen_again(
    shift: Shift,
) -> None:
    known, place = record(shift), shift.place(MAIN).id
    work = begun(shift, *PLACE)
    again = begin_damage(shift.site, place, known.id)
    right = begin_correction(shift.site, known.id)

    assert {it.damage_id for it in begun_damages(shift.site)} == {
        it.damage_id for it in (work, again, right)
    }
    assert begin_damage(shift.site, place) == work
    assert begin_damage(shift.site, place, known.id) == again


def test_its_photos_are_named_once_it_is_kept(shift: Shift, tmp_path: Path) -> None:
    work = begun(shift, *ALL)
    photo = keep_photo(shift.site, taken(tmp_path / "tear.jpg"), None, work.damage_id)

    assert keep_damage(shift.site, work, None).body.photos == (photo.id,)


def test_what_is_measured_on_a_photo_brings_its_own_doubt(shift: Shift) -> None:
    said = measured_on_photo("length", Decimal("639.6"), Decimal("21.7"))
    damage = begun(shift, *PLACE, said, measured_on_photo("area", *AREA)).damage

    assert damage is not None
    length, area = damage.extent.length, damage.extent.area
    assert length is not None
    assert area is not None
    assert (length.value_mm, length.u95_mm, length.how) == (Decimal(640), Decimal(22), "photo")
    assert (area.value_m2, area.u95_m2) == AREA


def test_what_is_discarded_leaves_nothing(shift: Shift) -> None:
    let_go(shift.site, begun(shift, *ALL))

    assert open_damage(shift.site, shift.place(MAIN).id) is None
    assert damages(shift.site, shift.clock()) == ()
