"""What is reported after chainages were measured anew: places as they are today, judged alike."""

from collections.abc import Collection
from decimal import Decimal

from fieldapp.store.office.line import Line
from fieldapp.store.office.lines import BoltLine, JudgementLine, RoundLine
from fieldapp.work.demo.story import READY
from fieldapp.work.office_lines.heading import heading_told
from fieldapp.work.office_lines.judged import judged
from fieldapp.work.reporting.facts import HeadingFacts
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.then import of_tablet
from tests.unit.work.conftest import Shift
from tests.unit.work.test_rechain import BY_M, ENTERED_M, chained_anew


def reported(shift: Shift) -> HeadingFacts:
    return heading_report(of_tablet(shift.site), READY)


def office_lines(shift: Shift) -> list[Line]:
    def tablets(revisions: Collection[str]) -> dict[str, str]:
        return dict.fromkeys(revisions, "tablet")

    told = heading_told(shift.site, shift.place().id, tablets)
    return [*told.lines, *(line for it in told.to_judge for line in judged(it).lines)]


def test_a_heading_report_has_every_place_where_it_is_today(shift: Shift) -> None:
    before = reported(shift)
    chained_anew(shift, ENTERED_M)
    after = reported(shift)
    (was,), (is_now,) = before.rounds, after.rounds

    assert [is_now.joint_m, is_now.last_row_m] == [was.joint_m + BY_M, was.last_row_m + BY_M]
    assert [it.chainage_m for it in is_now.bolts] == [it.chainage_m + BY_M for it in was.bolts]
    assert [it.middle_m for it in is_now.laps] == [it.middle_m + BY_M for it in was.laps]
    assert after.heading.entry.line_m == before.heading.entry.line_m + BY_M
    assert after.heading.entry.signed_m == before.heading.entry.signed_m
    assert is_now.assessment == was.assessment, "judged as it was stated"
    assert [it.by_m for it in after.rechained] == [BY_M]


def test_a_report_of_a_time_before_has_the_chainages_of_then(shift: Shift) -> None:
    before, at = reported(shift), shift.clock()
    chained_anew(shift, ENTERED_M)
    then = heading_report(of_tablet(shift.site).as_at(at), READY)

    assert [it.joint_m for it in then.rounds] == [it.joint_m for it in before.rounds]
    assert then.heading.entry == before.heading.entry


def test_an_office_has_every_place_where_it_is_today(shift: Shift) -> None:
    before = office_lines(shift)
    chained_anew(shift, ENTERED_M)
    after = office_lines(shift)
    by = float(BY_M)

    for was, is_now in zip(before, after, strict=True):
        if isinstance(was, RoundLine) and isinstance(is_now, RoundLine):
            assert Decimal(str(is_now.joint_m)) == Decimal(str(was.joint_m)) + BY_M
            assert is_now.advance_m == was.advance_m
        if isinstance(was, BoltLine) and isinstance(is_now, BoltLine):
            assert is_now.chainage_m == round(was.chainage_m + by, 3)
        if isinstance(was, JudgementLine) and isinstance(is_now, JudgementLine):
            assert is_now.assessment == was.assessment
    assert {RoundLine, BoltLine, JudgementLine} <= {type(it) for it in after}
