"""The work of the demo's past: methods and the hurried crew are told apart by what was stated."""

import re
from collections.abc import Iterator
from math import sqrt
from statistics import fmean, stdev

import pytest

from fieldapp.assess.take_off import minutes_of, take_off, wanted_by_round
from fieldapp.report.words.trend import middle_words
from fieldapp.work.demo.history.truth import (
    CREW_A,
    CREW_B,
    CREW_C,
    CREWS,
    DELAYED,
    MINUTES_PER_M2,
    Crew,
)
from fieldapp.work.demo.story import MAIN
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import headings
from fieldapp.work.trends import measure, trends
from schemas.bodies.round import Round
from schemas.bodies.work_seen import WorkMethod, WorkSeen
from tests.past import Past, holds, share

SURE_ERRORS = 3
"""So many standard errors: a mean that lies farther off is a past that tells something else."""


def worked(past: Past, *crews: Crew) -> Iterator[tuple[Round, WorkSeen]]:
    for crew in crews:
        for known in past.of(crew):
            assert known.body.work is not None
            yield known.body, known.body.work


def minutes_per_m2(past: Past, method: WorkMethod, *crews: Crew) -> Iterator[float]:
    """Yield what each round took without its delays, for a square metre of rock."""
    for seen, work in worked(past, *crews):
        demanded = past.standard.support_class(seen.support_class)
        minutes = minutes_of(work)
        if work.method == method and demanded is not None and minutes is not None:
            found = take_off(demanded, wanted_by_round(demanded, seen))
            held_up = sum(it.minutes for it in work.delays or ())
            yield (minutes - held_up) / float(found.line_m * found.wanted.advance_m)


def means(found: list[float], truth: float) -> bool:
    error = stdev(found) / sqrt(len(found))
    return abs(fmean(found) - truth) <= SURE_ERRORS * error


@pytest.mark.parametrize("method", ["mechanised", "hand-held"])
def test_a_square_metre_takes_as_long_by_either_method_as_it_truly_does(
    method: WorkMethod, past: Past
) -> None:
    found = list(minutes_per_m2(past, method, CREW_A, CREW_B))

    assert len(found) > 30
    assert means(found, MINUTES_PER_M2[method])


def test_the_crew_in_a_hurry_is_faster_by_either_method(past: Past) -> None:
    for method, minutes in MINUTES_PER_M2.items():
        assert means(list(minutes_per_m2(past, method, CREW_C)), minutes * CREW_C.pace)


def test_as_many_rounds_were_held_up_as_truly_were(past: Past) -> None:
    assert holds(share(bool(work.delays) for _, work in worked(past, *CREWS)), DELAYED)


def test_whoever_goes_beyond_the_last_row_by_hand_is_the_hurried_crew(past: Past) -> None:
    for crew in CREWS:
        by_hand = [it for _, it in worked(past, crew) if it.method == "hand-held"]
        found = share(bool(it.beyond_last_row) for it in by_hand)

        assert holds(found, crew.goes_beyond), crew.name
    assert [heading_record(past.site, it.id).beyond for it in headings(past.site)] == [
        () for _ in headings(past.site)
    ], "each was looked into"


def test_the_trends_tell_the_methods_apart_beyond_doubt(past: Past) -> None:
    by_hand, by_machine = (
        it.middle for it in trends(past.site, measure("minutes-per-round"), "method")
    )
    slow, fast = (it.middle for it in trends(past.site, measure("meshed-per-hour"), "method"))
    costs = trends(past.site, measure("cost-per-metre"), "method")

    assert by_hand is not None
    assert by_machine is not None
    assert by_hand.interval is not None
    assert by_machine.interval is not None
    assert by_machine.interval.high < by_hand.interval.low
    assert slow is not None
    assert fast is not None
    assert slow.median < fast.median
    assert [it.group for it in costs] == ["hand-held, AUD", "mechanised, AUD"]


def test_each_heading_has_its_methods_apart_with_unit_interval_and_number_of_rounds(
    past: Past,
) -> None:
    """Below six rounds no two of them hold the median with 95 %: that is said instead."""
    for key, unit in (("minutes-per-round", "min"), ("meshed-per-hour", "m²/h")):
        found = trends(past.site, measure(key), "heading and method")
        assert {f"{MAIN}, hand-held", f"{MAIN}, mechanised"} <= {it.group for it in found}
        for group in found:
            n = len(group.points)
            sure = r"[\d.]+ to [\d.]+, 95 % sure" if n > 5 else "too few for an interval"
            said = middle_words(group)
            assert re.fullmatch(rf"median [\d.]+ {unit}, n = {n} \({sure}\)", said), said
