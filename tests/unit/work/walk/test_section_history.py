"""What is known of each section: every look at it, whoever looked, where it lies today."""

from collections.abc import Sequence
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.report.words.section import look_lines, why_words
from fieldapp.work.demo.story import CUDDY, READY
from fieldapp.work.walk.plan import plan_of_month
from fieldapp.work.walk.section_history import SectionKnown, section_known, sections_known
from fieldapp.work.walk.supported_ground import supported_ground
from fieldapp.work.writing import state
from schemas.bodies.withdrawal import Withdrawal
from tests.unit.work.conftest import Shift
from tests.walks import SUPERVISOR, TECHNICIAN, section, walk


def known(shift: Shift, name: str = CUDDY) -> tuple[SectionKnown, ...]:
    return sections_known(shift.site, shift.place(name).id)


def answers(section: SectionKnown) -> list[str]:
    return [it.seen.answer for it in section.looks]


def rechain(shift: Shift, *rechained: dict[str, Any]) -> None:
    """State the heading anew, its chainages measured anew today."""
    place = shift.place(CUDDY)
    today = [{"at": shift.clock()} | it for it in rechained]
    body = type(place.body).model_validate(place.body.model_dump() | {"rechained": today})
    by = shift.who("Records keeper").person_id
    parents = (place.entry.revision,)
    state(shift.site, "heading", body, author=by, thing_id=place.id, parents=parents)


def grounds(section: SectionKnown) -> Sequence[tuple[str, str]]:
    return [(str(it.ground.from_m), str(it.ground.to_m)) for it in section.looks]


def test_ground_that_was_supported_before_the_record_is_walked_from_the_origin(
    shift: Shift,
) -> None:
    sections = [it.section for it in known(shift)]

    assert str(sections[0].from_m) == "0"
    assert sections[-1].to_m == supported_ground(shift.site, shift.place(CUDDY).id).to_m


def test_a_round_that_is_accepted_adds_to_the_ground_that_is_walked(shift: Shift) -> None:
    before = supported_ground(shift.site, shift.place(READY).id)
    shift.sign(shift.look())
    after = supported_ground(shift.site, shift.place(READY).id)

    assert after.from_m == before.from_m == 0
    assert after.to_m > before.to_m


def test_a_round_that_is_sent_back_adds_none(shift: Shift) -> None:
    before = supported_ground(shift.site, shift.place(READY).id)
    shift.sign(shift.look(), "sent back")

    assert supported_ground(shift.site, shift.place(READY).id) == before


def test_every_look_at_a_section_is_kept_the_newest_first(shift: Shift) -> None:
    walk(shift, CUDDY, section(0, 10), section(10, 20))
    shift.wait(days=30)
    walk(shift, CUDDY, section(0, 10, answer="something new"), who=SUPERVISOR)
    first, second, *_ = known(shift)

    assert answers(first) == ["something new", "nothing new"]
    assert answers(second) == ["nothing new"]
    assert {it.two_on_this_day for it in first.looks} == {False}


def test_two_people_who_looked_on_one_day_both_stand_and_are_marked(shift: Shift) -> None:
    walk(shift, CUDDY, section(0, 10), section(10, 20), who=TECHNICIAN)
    shift.wait(hours=2)
    walk(shift, CUDDY, section(0, 10, answer="something new"), who=SUPERVISOR)
    first, second, *_ = known(shift)

    assert answers(first) == ["something new", "nothing new"]
    assert [it.two_on_this_day for it in first.looks] == [True, True]
    assert [it.two_on_this_day for it in second.looks] == [False]


@pytest.mark.parametrize(("second_mm", "apart_mm"), [("5012", "50"), ("4990", None)])
def test_a_station_that_two_people_read_apart_on_one_day_is_marked_in_both(
    shift: Shift, second_mm: str, apart_mm: str | None
) -> None:
    """Two readings by tape, each off by 10 mm, differ by 28.3 mm at most, 95 % sure."""
    station = {"station": "CV-7", "between": "walls", "chainage_m": "3.4", "u_mm": "10"}
    for who, read_mm in ((TECHNICIAN, "4962"), (SUPERVISOR, second_mm)):
        read = [station | {"read_mm": read_mm}]
        walk(shift, CUDDY, section(0, 10, answer="something new", distances=read), who=who)
        shift.wait(hours=2)
    looks = known(shift)[0].looks
    expected = apart_mm and f"CV-7 was read {apart_mm} mm apart on one day, doubt ± 28.3 mm"
    said = [it.words.partition(":")[0] for look in looks for it in look.apart]

    assert said == ([expected] * 2 if expected else [])
    shown = [line for look in looks for line in look_lines(look, "", shift.site.settings)]
    assert sum("apart on one day" in line for line in shown) == len(said)
    planned = plan_of_month(shift.site, shift.place(CUDDY).id, "2031-07").sections
    first = next(it for it in planned if it.section == known(shift)[0].section)
    assert ("apart" in why_words(first, "metres")) == bool(said)


def test_one_person_who_looks_twice_on_a_day_is_not_two(shift: Shift) -> None:
    for _ in range(2):
        walk(shift, CUDDY, section(0, 10))
        shift.wait(hours=1)

    assert [it.two_on_this_day for it in known(shift)[0].looks] == [False, False]


def test_a_section_that_was_not_reached_was_not_looked_at(shift: Shift) -> None:
    reached = walk(shift, CUDDY, section(0, 10))
    shift.wait(days=30)
    walk(shift, CUDDY, section(0, 10, answer="not reached", not_reached="water"))
    first = known(shift)[0]

    assert answers(first) == ["not reached", "nothing new"]
    assert first.last is not None
    assert first.last.walk_id == reached.id


def test_a_walk_that_was_withdrawn_shows_nothing(shift: Shift) -> None:
    wrong = walk(shift, CUDDY, section(0, 10))
    said = {"revision": wrong.entry.revision, "thing": wrong.id, "reason": "other drive"}
    body = Withdrawal.model_validate(said)
    state(shift.site, "withdrawal", body, author=shift.who("Geotechnical engineer").person_id)

    assert known(shift)[0].looks == ()


def test_what_was_seen_before_chainages_were_measured_anew_lies_where_it_is_today(
    shift: Shift,
) -> None:
    walk(shift, CUDDY, section(10, 20))
    shift.wait(days=1)
    rechain(shift, {"from_m": "5", "by_m": "3.2"})
    first, second, third, *_ = known(shift)

    assert first.looks == ()
    assert grounds(second) == grounds(third) == [("13.2", "23.2")]
    assert [it.seen.from_m for it in second.looks] == [Decimal(10)], "as it was read"


def test_what_is_seen_afterwards_is_read_as_it_stands_there(shift: Shift) -> None:
    rechain(shift, {"from_m": "5", "by_m": "3.2"})
    shift.wait(days=1)
    walk(shift, CUDDY, section(10, 20))

    assert grounds(known(shift)[1]) == [("10", "20")]


def test_whoever_read_old_marks_says_so_and_is_shifted_once(shift: Shift) -> None:
    old = shift.clock() - timedelta(days=2)
    rechain(shift, {"from_m": "5", "by_m": "3.2"})
    shift.wait(days=1)
    walk(shift, CUDDY, section(10, 20), at=old, rechained_by_m="3.2")

    assert grounds(known(shift)[1]) == [("13.2", "23.2")]


def test_a_walk_that_chainages_were_measured_anew_on_is_read_section_by_section(
    shift: Shift,
) -> None:
    before = section(10, 20) | {"at": shift.clock()}
    shift.wait(hours=1)
    rechain(shift, {"from_m": "5", "by_m": "3.2"})
    shift.wait(hours=1)
    walk(shift, CUDDY, before, section(30, 40) | {"at": shift.clock()}, at=shift.clock())

    assert grounds(known(shift)[1]) == [("13.2", "23.2")]
    assert grounds(known(shift)[3]) == [("30", "40")]


def test_the_ground_itself_moves_with_its_chainages(shift: Shift) -> None:
    before = supported_ground(shift.site, shift.place(CUDDY).id)
    shift.wait(days=1)
    rechain(shift, {"from_m": "5", "by_m": "3.2"})
    after = supported_ground(shift.site, shift.place(CUDDY).id)

    assert after.from_m == 0
    assert after.to_m - before.to_m == Decimal("3.2")


def test_one_section_is_found_by_any_place_in_it(shift: Shift) -> None:
    walk(shift, CUDDY, section(0, 10), section(10, 20))
    site, heading_id = shift.site, shift.place(CUDDY).id
    sections = sections_known(site, heading_id)
    end_m = sections[-1].section.to_m

    assert section_known(site, heading_id, Decimal("14.2")) == sections[1]
    assert section_known(site, heading_id, Decimal(10)) == sections[1]
    assert section_known(site, heading_id, end_m) == sections[-1]
    assert section_known(site, heading_id, end_m + 1) is None


def test_what_a_newer_version_says_of_a_section_is_left_out_and_the_rest_stands(
    shift: Shift,
) -> None:
    known_body = walk(shift, CUDDY, section(0, 10), section(10, 20)).body
    newer = known_body.model_dump(mode="json", exclude_none=True)
    newer["sections"][0]["answer"] = "seen from a drone"
    body = type(shift.place().body).model_construct(**newer)
    shift.wait(days=1)
    state(shift.site, "walk", body, author=shift.who().person_id)
    first, second, *_ = known(shift)

    assert (len(first.looks), len(second.looks)) == (1, 2)
