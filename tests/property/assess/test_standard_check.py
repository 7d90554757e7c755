"""Whatever figures a standard states, it is judged and told about, never a crash."""

import json
from functools import reduce
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.standard_check import proposed_gap_limits, refusals, warnings
from fieldapp.assess.standard_words import standard_in_words
from schemas.reading import Refused, read_model
from schemas.standard import Standard, SupportClass
from tests.standards import DEMO, changed, put

Place = tuple[Any, ...]


def figures(value: Any, path: Place = ()) -> list[Place]:
    """Give every place where a figure stands."""
    if isinstance(value, dict | list):
        steps = value.items() if isinstance(value, dict) else enumerate(value)
        return [place for step, item in steps for place in figures(item, (*path, step))]
    is_figure = isinstance(value, str) and value.replace(".", "", 1).isdigit()
    return [path] if is_figure or type(value) is int else []


FIGURES = figures(json.loads(DEMO))
WRITTEN = st.sampled_from(["0", "0.001", "0.3", "1", "2.5", "10", "99", "1000"]) | st.decimals(
    min_value=0, max_value=12, places=3
).map(str)


def with_figures(changes: list[tuple[Place, str]]) -> Standard | None:
    document = json.loads(DEMO)
    for place, written in changes:
        holder = reduce(lambda at, step: at[step], place[:-1], document)
        is_count = type(holder[place[-1]]) is int
        holder[place[-1]] = int(float(written)) if is_count else written
    try:
        return read_model(json.dumps(document).encode(), Standard, source="the standard")
    except Refused:
        return None


@given(st.lists(st.tuples(st.sampled_from(FIGURES), WRITTEN), min_size=1, max_size=6))
def test_any_figures_are_judged(changes: list[tuple[Place, str]]) -> None:
    standard = with_figures(changes)
    if standard is None:
        return

    assert all(fault.path.startswith("$.") and fault.reason for fault in refusals(standard))
    assert all(fault.path.startswith("$.") and fault.reason for fault in warnings(standard))
    assert standard_in_words(standard)


spacings = st.decimals(min_value="0.6", max_value="2.4", places=2)


@given(spacings, spacings, st.sampled_from(["square", "staggered"]))
def test_proposed_gap_limits_are_never_below_the_pattern(
    spacing_m: Any, row_spacing_m: Any, kind: str
) -> None:
    proposed = proposed_gap_limits(class_of(str(spacing_m), str(row_spacing_m), kind))
    limits = {
        "at_most_m": str(proposed.rework_above_m),
        "no_entry_above_m": str(proposed.no_entry_above_m),
    }

    def change(document: Any) -> None:
        put(0, "pattern", bolt_spacing_m=str(spacing_m), row_spacing_m=str(row_spacing_m))(
            document
        )
        put(0, "pattern", kind=kind)(document)
        put(0, "limits.largest_gap", **limits)(document)

    found = [fault for fault in refusals(changed(change)) if fault.path.endswith("at_most_m")]

    assert not any("at full tolerance, so" in fault.reason for fault in found), found


def class_of(spacing_m: str, row_spacing_m: str, kind: str) -> SupportClass:
    fields = {"bolt_spacing_m": spacing_m, "row_spacing_m": row_spacing_m, "kind": kind}
    return changed(put(0, "pattern", **fields)).classes[0]
