"""Cards of the standard's editor speak the trade's words, figures with their units first."""

import json
import re

from fieldapp.ui.standard_edit_work import group_words
from fieldapp.work.standard_editing import groups_of_class
from fieldapp.work.standard_editing.titles import TITLES, title_of
from schemas.standard import Standard
from tests.unit.report.examples import STANDARD

DOCUMENT = json.loads(STANDARD.model_dump_json())


def card(title: str) -> str:
    """Give what the card of a part of the first class says."""
    return group_words(next(it for it in groups_of_class(DOCUMENT, 0) if it.title == title))


def names_of_fields() -> set[str]:
    form = Standard.model_json_schema()
    return {name for it in (form, *form["$defs"].values()) for name in it.get("properties", {})}


def test_a_limit_says_its_figures_before_what_a_breach_means_and_why() -> None:
    gap = card("Limits: largest gap")

    assert re.match(r"at most [\d.]+ m · no entry above", gap)
    assert "because" not in gap
    assert card("Limits: bolts present") == "a breach means rework · because of S-2, 5.2"


def test_what_a_part_is_stands_without_the_name_of_its_field() -> None:
    assert card("Profile").startswith("arch · ")
    assert card("Pattern").startswith("square · bolt spacing ")
    assert card("Bolts RB24").startswith("RB24 · ")
    assert card("Rock").startswith("density of the rock 2800 kg/m³")


def test_a_part_that_is_there_is_named_and_one_that_is_left_out_too() -> None:
    assert card("Limits").startswith("load · no ")


def test_no_field_bears_a_unit_in_its_words_and_every_word_is_of_a_field() -> None:
    raw = [
        it for it in sorted(names_of_fields()) if re.search(r" per m| kg| kn|_", title_of(it)[0])
    ]

    assert raw == []
    assert set(TITLES) <= names_of_fields()
