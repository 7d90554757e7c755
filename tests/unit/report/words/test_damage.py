"""Damage in words: where, how large, by when, and what was seen of it."""

from datetime import UTC

from fieldapp.report.words.damage import due_words, extent_words, place_words, seen_words
from schemas.bodies.damage import DamageExtent
from tests.damages import damage, decided, mm, ranked, seen

NB = "\N{NO-BREAK SPACE}"


def test_a_place_names_its_zone_and_side() -> None:
    told = place_words(damage(s_m="2.6"), "metres")

    assert told == f"1{NB}350.4 m, right shoulder, 2.6 m right of the crown"


def test_a_stretch_is_said_from_end_to_end() -> None:
    told = place_words(damage(to_m="1352"), "metres")

    assert told.startswith(f"1{NB}350.4 – 1{NB}352.0 m")


def test_only_what_somebody_read_is_said_of_its_size() -> None:
    extent = DamageExtent.model_validate({"openings": 6, "length": mm(640, "photo")})

    assert extent_words(extent, "metres") == "6 openings, 640 mm long by photo"
    assert extent_words(DamageExtent(), "metres") == ""


def test_a_due_date_that_has_passed_is_overdue() -> None:
    """P2 is due within 7 days of 6 May."""
    assert due_words(ranked(seen()), UTC) == "due 13 May 2031"
    assert due_words(ranked(seen(), days=8), UTC) == "overdue since 13 May 2031"


def test_what_nobody_judged_is_left_to_the_engineer() -> None:
    assert due_words(ranked(seen(severity=None)), UTC) == "the engineer decides"


def test_what_was_seen_is_said_shortly() -> None:
    one = damage(kind="torn mesh", rock_behind="loose", extent={"openings": 1})

    assert seen_words(one, "metres") == "torn mesh, S3, 1 opening, rock behind loose"


def test_a_decision_says_what_was_decided_and_why() -> None:
    told = seen_words(decided(1, "P4", "bulkheaded").damage, "metres")

    assert told == "P4 decided: bulkheaded"


def test_a_place_in_feet_is_said_in_feet() -> None:
    """1350.4 / 0.3048 is 4430.4 ft: 5 inches and 4,430 feet."""
    assert place_words(damage(), "feet and inches").startswith(f"4{NB}430{NB}ft{NB}5{NB}in")
