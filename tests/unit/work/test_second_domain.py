"""The ground changes within a round: what is asked then, row by row, and what is kept."""

from decimal import Decimal

from fieldapp.assess import assess
from fieldapp.assess.walk import Section, interval
from fieldapp.work.demanded import demanded_in_row, torque_positions_in_round
from fieldapp.work.known import Known as KnownThing
from fieldapp.work.questions import Asker, Known, questions
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round
from fieldapp.work.touches import GroundChanges, Undone, read_touch, write_touch
from fieldapp.work.walk.rows_there import rows_there
from fieldapp.work.walk.section_condition import SupportRecord, condition
from fieldapp.work.walk.section_history import SectionKnown
from fieldapp.work.walk.supported_ground import Installed
from fieldapp.work.writing import written
from schemas.bodies.second_domain import SecondDomain
from schemas.walk_rules import WalkInterval
from tests.unit.work.conftest import Shift


def changed(shift: Shift) -> tuple[RoundWork, SecondDomain]:
    """Begin the next round, and let another class of the standard begin past its first row."""
    work = begin_round(shift.site, shift.place().id, shift.who())
    other = next(it for it in work.standard.classes if it.code != work.support_class.code)
    second = SecondDomain(
        from_m=work.seen.joint_m + Decimal("1.0"),
        support_class=other.code,
        told_by="the plan",
        bolt_type=other.bolts[0].code,
        bolt_length_m=other.bolts[0].length_m,
    )
    touch = GroundChanges(at=shift.clock(), by=shift.who().person_id, second=second)
    return work.touched(touch), second


def test_rows_past_it_are_asked_for_as_the_other_class_demands_them(shift: Shift) -> None:
    work, second = changed(shift)
    asked = questions(work, Asker(shift.clock(), None), Known(crews=()))
    spacing = {it.row: it.hint for it in asked if it.key.startswith("ahead")}
    inbye = work.standard.support_class(second.support_class)

    assert inbye is not None
    assert [work.class_of(row).code for row in (1, 2)] == [
        work.support_class.code,
        second.support_class,
    ]
    assert f"At most {inbye.limits.row_spacing.at_most_m} m" in spacing[2]
    assert demanded_in_row(work, 2) == len(work.bolted[1].demanded.s_m)


def test_torques_are_read_by_the_rule_of_the_ground_that_a_bolt_stands_in(shift: Shift) -> None:
    work, _second = changed(shift)
    demanding = {it.code for it in work.classes if it.limits.torque is not None}
    rows = {row for _bolt, (row, _at) in torque_positions_in_round(work)}

    assert {work.class_of(row).code for row in rows} == demanding


def test_it_is_kept_with_who_said_so_and_named_wherever_the_class_is(shift: Shift) -> None:
    work, second = changed(shift)
    kept = read_touch(write_touch(work.touches[-1]))
    found = assess(work.bundle(shift.clock()))

    assert kept == work.touches[-1]
    assert work.seen.second_domain == second
    assert found.support_class == f"{work.support_class.code}, from {second.from_m} m " + (
        second.support_class
    )


def test_undone_the_round_lies_in_one_ground_again(shift: Shift) -> None:
    work, _second = changed(shift)
    undone = work.touched(Undone(at=shift.clock(), by=None))

    assert len(work.classes) == 2
    assert undone.classes == (work.support_class,)


def put_up(shift: Shift, work: RoundWork) -> Installed:
    """Its support as it stands once it is in: two rows, 2 m from its joint on."""
    body = work.seen.model_copy(update={"rows_planned": 2})
    entry = written(shift.site, "round", body, author=shift.who().person_id)
    ground = Section(body.joint_m, body.joint_m + 2)
    return Installed(ground, body.support_class, KnownThing(entry, body))


def test_a_walk_looks_at_each_row_by_the_class_that_it_was_put_in_by(shift: Shift) -> None:
    work, second = changed(shift)
    rows = rows_there(shift.site, shift.place().body, [put_up(shift, work)], work.standard)

    assert [it.support_class for it in rows] == [work.support_class.code, second.support_class]


def test_a_walk_is_due_by_the_class_of_each_stretch_and_by_the_shorter_where_it_holds_both(
    shift: Shift,
) -> None:
    work, second = changed(shift)
    assert work.standard.walk is not None
    support = SupportRecord(shift.place().body, (put_up(shift, work),), (), (), ())
    of = {work.support_class.code: 20, second.support_class: 10}
    intervals = tuple(
        WalkInterval(interval_days=days, support_class=code, because="its ground works")
        for code, days in of.items()
    )
    rule = work.standard.walk.model_copy(update={"intervals": intervals})

    def days(from_m: Decimal, to_m: Decimal) -> int:
        known = SectionKnown(Section(from_m, to_m), ())
        found = condition(shift.site, known, support, work.standard)
        return interval(work.standard, rule, found).days

    joint_m, ends_m = work.seen.joint_m, work.seen.joint_m + 2

    assert days(joint_m, second.from_m) == 20
    assert days(second.from_m, ends_m) == 10
    assert days(joint_m, ends_m) == 10
