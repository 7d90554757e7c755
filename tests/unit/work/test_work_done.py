"""What a month's report says of work: pace with its interval, delays, take-off against used."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from fieldapp.work.beyond import find_beyond, look_into
from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.known import Known
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.then import of_tablet
from fieldapp.work.reporting.told_of_work import PaceTold, TakenTold, WorkDone
from fieldapp.work.reporting.work_done import done_in, work_done
from fieldapp.work.rounds import last_round
from fieldapp.work.writing import state
from schemas.bodies.round import Round
from schemas.bodies.work_seen import BoltsUsed, Delay, Used, WorkMethod, WorkSeen
from tests.demo_mine import PRESENT
from tests.unit.work.conftest import Shift

MAY = "2031-05"
BARRED = Delay(minutes=20, cause="barred down again")
POWER = Delay(minutes=30, cause="no air, water or power")


def took(
    minutes: int,
    *delays: Delay,
    method: WorkMethod | None = "hand-held",
    beyond: str | None = None,
    used: Used | None = None,
) -> WorkSeen:
    """Say of a round that it took so long."""
    return WorkSeen(
        started_at=PRESENT - timedelta(minutes=minutes),
        finished_at=PRESENT,
        crew_size=3,
        method=method,
        delays=delays,
        used=used or Used(mesh_pieces=10),
        beyond_last_row=beyond is not None,
        beyond_reason=beyond,
    )


def worked(shift: Shift, name: str, work: WorkSeen) -> Known[Round]:
    """Record the last round of a heading again, with what is stated of its work."""
    last = last_round(shift.site, shift.place(name).id)
    assert last is not None
    body = last.body.model_copy(update={"work": work})
    who = shift.who().person_id
    parents = (last.entry.revision,)
    entry = state(shift.site, "round", body, author=who, thing_id=last.id, parents=parents)
    return Known(entry, body)


def told(shift: Shift, month: str = MAY, *names: str) -> WorkDone:
    return month_report(of_tablet(shift.site), month, names).work


def pace(work: WorkDone, measure: str, heading: str, *, in_month: bool = True) -> PaceTold:
    (found,) = (
        it
        for it in work.pace
        if (it.measure, it.heading, it.month is not None) == (measure, heading, in_month)
    )
    return found


def taken(work: WorkDone, thing: str) -> TakenTold:
    (found,) = (it for it in work.materials if it.thing == thing)
    return found


def test_a_month_says_how_long_a_round_took_how_fast_mesh_went_up_and_by_which_method(
    shift: Shift,
) -> None:
    """Ten sheets of 3.0 × 2.4 m are 72 m²; in three hours that is 24 m² an hour."""
    worked(shift, MAIN, took(180))
    work = told(shift, MAY, MAIN, READY)
    minutes, mesh = (pace(work, it, MAIN) for it in ("minutes-per-round", "meshed-per-hour"))

    assert [minutes.median, minutes.rounds, minutes.method] == [180, 1, "hand-held"]
    assert mesh.median == 24
    assert (minutes.low, minutes.per_year) == (None, None), "one round tells no interval"
    assert not [it for it in work.pace if it.heading == READY], "nothing is stated of it"


def test_a_metre_costs_what_went_in_and_the_crew_s_hours_by_the_standard_s_prices(
    shift: Shift,
) -> None:
    bolts = (BoltsUsed(bolt_type="RB24", bolts=27),)
    used = Used(bolts=bolts, plates=27, mesh_pieces=10, capsules=81)
    worked(shift, MAIN, took(180, used=used))
    cost = pace(told(shift, MAY, MAIN), "cost-per-metre", MAIN)
    (priced,) = (
        it.work.cost_per_metre
        for one in month_report(of_tablet(shift.site), MAY, [MAIN]).headings
        for it in one.rounds
        if it.work is not None
    )

    # 27 bolts, plates, 72 m², 81 capsules and nine hours of a person, by the demo's prices.
    assert priced is not None
    assert [cost.currency, cost.median] == ["AUD", round(priced)]


def test_the_median_of_six_rounds_lies_between_the_least_and_the_greatest_of_them(
    shift: Shift,
) -> None:
    """Six is the fewest that tell an interval: 2 · (1/2)⁶ is 3.1 %, below 5."""
    worked(shift, MAIN, took(180))
    on = of_tablet(shift.site)
    (one,) = (it for it in done_in(on, shift.place(MAIN)) if it.figures.minutes)

    def of(*minutes: int) -> PaceTold:
        several = [
            replace(one, figures=one.figures.model_copy(update={"minutes": it})) for it in minutes
        ]
        return pace(work_done(on, several, MAY), "minutes-per-round", MAIN)

    five, six = of(100, 110, 120, 130, 140), of(100, 110, 120, 130, 140, 150)

    assert [five.rounds, five.low, five.median] == [5, None, 120]
    assert [six.rounds, six.low, six.median, six.high] == [6, 100, 125, 150]


def test_a_round_counts_in_the_month_in_which_it_was_first_signed_however_late_it_was_told(
    shift: Shift,
) -> None:
    shift.wait(days=40)
    worked(shift, MAIN, took(180))
    june = told(shift, "2031-06", MAIN)
    year = pace(june, "minutes-per-round", MAIN, in_month=False)

    assert june.rounds == 0
    assert [year.median, year.rounds] == [180, 1], "it lies within the twelve months"
    assert [it.month for it in june.by_month] == [MAY] * 2, "its minutes and its mesh"


def test_what_held_work_up_is_added_up_by_cause_the_longest_first(shift: Shift) -> None:
    worked(shift, MAIN, took(180, BARRED, POWER))
    worked(shift, READY, took(200, BARRED, BARRED))
    work = told(shift, MAY, MAIN, READY)

    assert [(it.cause, it.rounds, it.minutes) for it in work.delays] == [
        (BARRED.cause, 2, 60),
        (POWER.cause, 1, 30),
    ]
    assert work.delays_said == 2, "of the rest nobody said"


def test_a_round_with_somebody_beyond_the_last_row_is_told_with_the_reason_and_who_looked_into_it(
    shift: Shift,
) -> None:
    seen = worked(shift, MAIN, took(180, beyond="to bar down"))
    worked(shift, READY, took(180))
    before = told(shift, MAY, MAIN, READY)
    it = find_beyond(shift.site, seen.id, seen.body)
    look_into(shift.site, it, "the way of working was changed", shift.who())
    after = told(shift, MAY, MAIN, READY)

    assert [(it.heading, it.reason, it.found) for it in before.beyond] == [
        (MAIN, "to bar down", None)
    ]
    assert after.beyond[0].found == "the way of working was changed"
    # Clopper & Pearson, one of two at 95 %: 1.3 to 98.7 %.
    assert (before.beyond_stated, before.beyond_said) == (1, 2)
    assert [before.beyond_low_percent, before.beyond_high_percent] == [
        Decimal("1.3"),
        Decimal("98.7"),
    ]


def test_that_somebody_went_beyond_is_told_though_the_round_was_recorded_anew_without_it(
    shift: Shift,
) -> None:
    worked(shift, MAIN, took(180, beyond="to bar down"))
    shift.wait(minutes=1)
    worked(shift, MAIN, took(180))
    work = told(shift, MAY, MAIN, READY)

    assert [it.reason for it in work.beyond] == ["to bar down"]


def test_the_take_off_of_a_month_stands_against_what_went_in_where_somebody_counted(
    shift: Shift,
) -> None:
    """Round 87 of the demo has four rows of nine bolts: two were spoilt."""
    bolts = (BoltsUsed(bolt_type="RB24", bolts=38),)
    worked(shift, MAIN, took(180, used=Used(bolts=bolts)))
    work = told(shift, MAY, MAIN)
    bolted, sheets = taken(work, "bolts"), taken(work, "sheets")

    assert [bolted.of, bolted.by_standard, bolted.used, bolted.difference] == ["RB24", 36, 38, 2]
    assert (bolted.counted, sheets.counted, sheets.used, sheets.difference) == (1, 0, None, None)
    assert sheets.needed > 0, "the standard takes them, counted or not"
    assert not [it for it in work.materials if it.thing == "mesh"], "its sheets stand for it"
