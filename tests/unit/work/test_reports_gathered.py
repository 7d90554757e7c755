"""What reports say of a heading: walks, tests, months and repairs, as they were stated."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

from fieldapp.work.demo.story import CUDDY, MAIN, READY
from fieldapp.work.rehab.rehab_list import rehab_list
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.then import of_tablet
from fieldapp.work.writing import state
from tests.damages import damage
from tests.unit.work.conftest import Shift
from tests.unit.work.test_both_standards import revise
from tests.unit.work.walk.test_section_corrosion import wet_air, wire
from tests.walks import TECHNICIAN, section, walk


def test_a_heading_tells_who_walked_it_what_was_not_reached_and_what_is_due(
    shift: Shift,
) -> None:
    before = heading_report(of_tablet(shift.site), MAIN)
    walk(
        shift,
        MAIN,
        section(580, 590, answer="something new"),
        section(590, 600, answer="not reached", not_reached="water"),
    )
    after = heading_report(of_tablet(shift.site), MAIN)
    (told,) = after.walks

    assert before.walks == ()
    assert (told.by, told.month, told.sections) == (TECHNICIAN, "2031-05", 2)
    assert (told.something_new, told.not_reached) == (1, 1)
    assert before.walk_due
    assert after.walk_due
    assert after.walk_due.never_looked_at < before.walk_due.never_looked_at


def test_a_walk_of_two_far_sections_tells_no_drive_between_them(shift: Shift) -> None:
    walk(shift, MAIN, section(460, 470), section(200, 210), section(210, 220))
    (told,) = heading_report(of_tablet(shift.site), MAIN).walks

    assert [(int(it.from_m), int(it.to_m)) for it in told.stretches] == [(200, 220), (460, 470)]


def test_a_heading_tells_how_fast_its_old_steel_goes_between_what_and_beside_which_air(
    shift: Shift,
) -> None:
    """1 mm off the diameter in 730.5 days: 250 µm a year off each side; ± 1.96·√2·10/2 µm."""
    ago = shift.clock() - timedelta(days=730.5)
    walk(shift, READY, section(130, 140, steel=[wire("5.5")]), at=ago)
    walk(shift, READY, section(130, 140, steel=[wire("4.5")]))
    (told,) = heading_report(of_tablet(shift.site), READY).steel

    assert (told.readings, told.last_read_mm) == (2, Decimal("4.5"))
    assert told.rate_um_per_year == Decimal("250.0")
    assert (told.rate_from_um_per_year, told.rate_to_um_per_year) == (
        Decimal("236.1"),
        Decimal("263.9"),
    )
    assert (told.iso_9223, told.share_at_most) == ("CX", Decimal("0.6457"))
    assert heading_report(of_tablet(shift.site), MAIN).steel == (), "nobody read any there"


def test_of_steel_that_nobody_read_a_heading_tells_the_oldest_by_its_age(shift: Shift) -> None:
    """Zinc of 40 µm lasts 9.5 years at 4.2 a year, then 5.6 mm lose 80 µm a year on each side."""
    shift.sign(shift.look())
    wet_air(shift, "C4")
    shift.wait(days=20 * 365.25)
    by_kind = {
        (it.part, it.steel): it for it in heading_report(of_tablet(shift.site), READY).steel
    }
    told = by_kind["mesh", "wire"]

    assert (told.readings, told.last_read_at) == (0, None)
    assert told.share_at_most is not None
    # 0.4910 is left of the round of today; the round before it is some days older.
    assert Decimal("0.4900") < told.share_at_most < Decimal("0.4910")
    assert "left, by its age" in told.words
    assert told.to_m is not None
    assert told.chainage_m < told.to_m


def test_a_month_adds_up_what_its_headings_say(shift: Shift) -> None:
    told = month_report(of_tablet(shift.site), "2031-05")
    by_name = {it.heading.name: it.month for it in told.headings}
    (whole,) = told.months

    # The story of the demo: round 87 of 3.6 m was fired, looked at and accepted.
    assert (by_name[MAIN].fired_m, by_name[MAIN].signed_m) == (Decimal("3.60"), Decimal("3.60"))
    assert whole.fired_m == sum(it.fired_m for it in by_name.values())
    assert whole.signed_off == sum(it.signed_off for it in by_name.values())
    assert whole.signed_m < whole.fired_m, "not all that was fired is signed"


def test_the_furthest_last_row_of_a_month_is_the_one_that_is_told(shift: Shift) -> None:
    told = month_report(of_tablet(shift.site), "2031-05")
    read = [one.last_row_to_face_m for it in told.headings for one in it.rounds]
    (whole,) = told.months

    assert whole.last_row_to_face_m == max(filter(None, read))


def test_what_is_overdue_in_a_month_stands_in_the_order_of_the_rehab_list(shift: Shift) -> None:
    for name, severity in ((READY, "S2"), (MAIN, "S3"), (CUDDY, "S2")):
        seen = damage(heading=shift.place(name).id, chainage_m="20", severity=severity)
        state(shift.site, "damage", seen, author=shift.who().person_id)
    shift.wait(days=200)
    on = of_tablet(shift.site)
    listed = [it.heading for it in rehab_list(on.sight, on.at)]
    told = month_report(on, "2031-11")
    some = month_report(on, "2031-11", [CUDDY, CUDDY])

    assert [it.heading for it in told.overdue] == listed
    assert listed[0] == MAIN
    assert [[it.heading.name for it in some.headings], [it.heading for it in some.overdue]] == [
        [CUDDY],
        [CUDDY],
    ]


def test_a_month_says_what_the_standard_in_force_makes_of_its_rounds_where_that_differs(
    shift: Shift,
) -> None:
    shift.sign(shift.look())
    before = month_report(of_tablet(shift.site), "2031-05", [READY])

    def bolts_longer(document: Any) -> None:
        for it in document["classes"][0]["bolts"]:
            it["length_m"] = "3.0"

    revise(shift, bolts_longer)
    shift.wait(days=1)
    (told,) = month_report(of_tablet(shift.site), "2031-05", [READY]).headings
    both = told.judged_otherwise[-1]

    assert before.headings[0].judged_otherwise == ()
    assert (both.round, both.then) == (65, "S-2 revision 5: accept")
    assert both.now.startswith("S-2 revision 6: no entry")
    assert both.breaches_now[0] == "Neighbouring bolts: no entry"
