"""A class whose rule for intersections contradicts itself is refused, with the place and why."""

from typing import Any

import pytest

from fieldapp.assess.standard_check import refusals
from fieldapp.assess.standard_words import class_in_words
from tests.standards import DEMO, W3, changed, put

REFUSED: list[tuple[str, dict[str, Any], str, str]] = [
    ("span", {"at_most_m": "0"}, "span.at_most_m", "a limit of nothing"),
    ("span", {"no_entry_above_m": "8"}, "span.no_entry_above_m", "before 8.5 m"),
    ("pattern", {"bolt_spacing_m": "1.8"}, "largest_gap.at_most_m", "gaps of 2.302 m"),
    ("largest_gap", {"at_most_m": "2.5"}, "largest_gap.at_most_m", "would not see"),
    ("density", {"at_least_per_m2": "0.6"}, "density.at_least_per_m2", "has 0.595 bolts"),
    ("cables.length", {"at_least_m": "6"}, "cables.length.at_least_m", "is 5 m long"),
    ("", {"pattern": None}, "pattern", "how many bolts"),
]


@pytest.mark.parametrize(("place", "fields", "path", "reason"), REFUSED)
def test_what_contradicts_itself_is_refused(
    place: str, fields: dict[str, Any], path: str, reason: str
) -> None:
    standard = changed(put(W3, f"intersection.{place}".rstrip("."), **fields))
    found = {it.path: it.reason for it in refusals(standard)}

    assert reason in found[f"$.classes[{W3}].intersection.{path}"]


def test_a_load_needs_a_demand_that_it_is_compared_with() -> None:
    assert any(
        it.path == f"$.classes[{W3}].intersection.load"
        for it in refusals(changed(put(W3, "", demand=None)))
    )


def test_a_class_may_say_nothing_of_intersections_as_older_standards_do() -> None:
    assert b'"intersection": {' in DEMO
    assert refusals(changed(put(W3, "", intersection=None))) == ()


def test_the_rule_is_told_in_words_with_what_a_breach_means_and_its_clause() -> None:
    standard = changed(lambda _document: None)
    (told,) = (it for it in class_in_words(standard.classes[W3]) if it.title == "Intersections")
    span, order = told.lines[0], told.lines[-1]

    assert (span.demanded, span.because) == ("Its span is at most 8.5 m.", "S-2, 8.1")
    assert span.breach == "rework; no entry above 10 m"
    assert order.demanded == "The breakaway is taken when its cables are plated and signed for."
