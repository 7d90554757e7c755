"""What a revision changes is said of every field, and of no other."""

import json
from copy import deepcopy
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.work.standard_editing import changes, groups_of_class, groups_of_mine
from fieldapp.work.standard_editing.fields import NAMED_BY, Field, steps_of
from tests.standards import DEMO

DOCUMENT = json.loads(DEMO)
FIELDS = [
    it
    for group in (
        *groups_of_mine(DOCUMENT),
        *(
            group
            for number in range(len(DOCUMENT["classes"]))
            for group in groups_of_class(DOCUMENT, number)
        ),
    )
    for it in group.fields
    if it.kind not in ("part", "list")
]
NUMBERS = [it for it in FIELDS if it.kind == "number" and it.steps[-1] not in NAMED_BY]
field = st.sampled_from(FIELDS)


def with_value(document: Any, it: Field, value: object) -> Any:
    changed = deepcopy(document)
    place = changed
    for step in it.steps[:-1]:
        place = place[step]
    place[it.steps[-1]] = value
    return changed


@given(field)
def test_a_place_is_found_again_by_its_path(it: Field) -> None:
    assert steps_of(it.path) == it.steps


@given(st.lists(st.sampled_from(NUMBERS), unique_by=lambda it: it.steps, max_size=6))
def test_each_changed_figure_is_said_once_and_taken_back_by_its_old_value(
    chosen: list[Field],
) -> None:
    after = DOCUMENT
    for it in chosen:
        after = with_value(after, it, "9.75")
    found = changes(DOCUMENT, after)

    assert {it.steps for it in found} == {it.steps for it in chosen}
    assert all(it.after == "9.75" for it in found)
    assert {(it.steps, it.before, it.after) for it in found} == {
        (it.steps, it.after, it.before) for it in changes(after, DOCUMENT)
    }


@given(st.permutations(range(len(DOCUMENT["classes"]))))
def test_the_order_of_classes_changes_nothing(order: list[int]) -> None:
    after = {**DOCUMENT, "classes": [DOCUMENT["classes"][it] for it in order]}

    assert changes(DOCUMENT, after) == ()


def test_what_was_left_out_is_named_by_the_class_that_it_was_in() -> None:
    """The classes stand in another order now: the place alone would name another one."""
    after = deepcopy({**DOCUMENT, "classes": DOCUMENT["classes"][::-1]})
    of = next(it for it in after["classes"] if it["code"] == "D1")
    del of["limits"]["mesh_lap"]
    (change,) = changes(DOCUMENT, after)

    assert change.sentence == "Classes D1, limits, mesh lap: left out, was put in"
