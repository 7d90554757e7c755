"""The standard that a round names, and another one."""

from datetime import timedelta

from schemas.findings import Verdict
from tests.unit.assess.conforming import LOOKED, STANDARD, conforming, with_round
from tests.unit.assess.contradictions.contradicted import (
    contradicted,
    stated_as_entry,
    the_one,
    with_heading,
)


def test_the_standard_whose_hash_the_round_names_agrees() -> None:
    assert contradicted(stated_as_entry(conforming())) == []


def test_another_standard_than_the_round_names() -> None:
    bundle = with_round(stated_as_entry(conforming()), standard="ab" * 32)

    check, words, verdict = the_one(bundle)
    assert (check, verdict) == ("standard", Verdict.NOT_LOOKED_AT)
    assert words.startswith("the round names the standard abababababab, this is the standard ")


def test_a_standard_that_was_changed_after_it_was_written_down() -> None:
    bundle = stated_as_entry(conforming())
    softer = STANDARD.model_copy(update={"approved_by": "somebody else"})

    assert the_one(bundle.model_copy(update={"standard": softer}))[1].startswith(
        "S-2 revision 5 is not as the standard "
    )


def test_a_standard_that_is_not_in_force_yet() -> None:
    later = STANDARD.model_copy(update={"effective_from": LOOKED + timedelta(days=1)})

    assert the_one(conforming().model_copy(update={"standard": later}))[1] == (
        "S-2 revision 5 was not in force yet at the time of judging"
    )


def test_a_worked_example_for_a_real_heading() -> None:
    assert the_one(with_heading(demo=False))[1] == (
        "S-2 revision 5 is a worked example, the heading is of a real mine"
    )
