"""A statement about a sample says what was looked at and never that the rest is good."""

from decimal import Decimal

import pytest

from fieldapp.assess.sampling import Looked, Statement, stated


def said(**counts: int) -> Statement:
    return stated(Looked(stratum="back", **counts), Decimal("0.95"))


def test_none_found_is_said_with_how_many_may_be_bad() -> None:
    statement = said(of=120, drawn=47, looked_at=47, bad=0)

    assert statement.words == "none found in 47 of 120; at most 5 % bad, 95 % confidence"
    assert (statement.most_bad, statement.most_bad_share) == (5, Decimal("0.0417"))


def test_what_was_not_reached_counts_as_bad() -> None:
    statement = said(of=120, drawn=53, looked_at=47, bad=0)

    assert statement.words == (
        "none found in 47 of 120; 6 not reached and counted as bad;"
        " at most 19 % bad, 95 % confidence"
    )
    assert statement.most_bad == said(of=120, drawn=53, looked_at=53, bad=6).most_bad


def test_a_bad_bolt_found_at_a_suspect_counts_for_no_share_and_is_still_said() -> None:
    statement = said(of=120, drawn=47, looked_at=47, bad=0, bad_beside=2)

    assert statement.most_bad == 5
    assert statement.words.endswith("; 2 more found bad beside the draw")


def test_no_fewer_may_be_bad_than_are_known_to_be() -> None:
    assert said(of=120, drawn=47, looked_at=47, bad=0, bad_beside=9).most_bad == 9


def test_where_all_were_looked_at_there_is_no_rest_to_speak_of() -> None:
    statement = said(of=24, drawn=24, looked_at=24, bad=1)

    assert statement.words == "1 found in 24 of 24"
    assert statement.most_bad == 1


@pytest.mark.parametrize("drawn", [0, 5])
def test_where_nobody_looked_nothing_is_known(drawn: int) -> None:
    statement = said(of=120, drawn=drawn, looked_at=0, bad=0)

    assert statement.words == "none of 120 looked at; nothing is known"
    assert statement.most_bad == 120


def test_a_share_is_said_no_milder_than_it_is() -> None:
    statement = said(of=2_000, drawn=300, looked_at=300, bad=0)

    assert statement.most_bad_share == Decimal("0.0090")
    assert "at most 1 % bad" in statement.words


@pytest.mark.parametrize(
    "counts",
    [
        {"of": 10, "drawn": 11, "looked_at": 1, "bad": 0},
        {"of": 10, "drawn": 5, "looked_at": 6, "bad": 0},
        {"of": 10, "drawn": 5, "looked_at": 5, "bad": 6},
        {"of": 10, "drawn": 5, "looked_at": 5, "bad": 0, "bad_beside": 6},
    ],
)
def test_counts_that_can_t_be_tell_nothing(counts: dict[str, int]) -> None:
    statement = said(**counts)

    assert statement.most_bad == 10
    assert statement.words == "the counts of 10 contradict each other; nothing is known"
