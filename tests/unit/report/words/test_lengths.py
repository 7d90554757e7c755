"""Lengths in the mine's units: feet and inches without a figure that says more than was read."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.report.words.lengths import (
    FEET,
    assessment_in,
    chainage_words,
    finding_in,
    in_units,
    limit_words,
    limits_in_units,
    line_tick_words,
    line_words,
    measured_words,
    metres_words,
    places_in_units,
    span_words,
    tick_words,
)
from schemas.findings import Finding, Place, Verdict
from tests.unit.report.examples import JUDGED, finding

NO_BREAK = "\N{NO-BREAK SPACE}"
AN_INCH_M = Decimal("0.0254")
"""Published: NIST SP 811 (2008), appendix B.8."""


def flat(words: str | None) -> str:
    return (words or "").replace(NO_BREAK, " ")


@pytest.mark.parametrize(
    ("value_m", "words"),
    [
        ("1.524", "5 ft 0 in"),  # published: 30 CFR 75.222(b)(1), 5 ft centres = 1.524 m
        ("0.3048", "1 ft 0 in"),  # published: NIST SP 811 (2008), B.8
        ("0.254", "10 in"),
        ("3.5", "11 ft 6 in"),  # 137.8 in
        ("0", "0 in"),
    ],
)
def test_a_length_is_read_in_feet_and_inches_where_the_mine_does_so(
    value_m: str, words: str
) -> None:
    assert flat(metres_words(Decimal(value_m), FEET)) == words


def test_metric_lengths_are_shown_as_they_are_kept() -> None:
    assert metres_words(Decimal("1.890"), "metres") == "1.890 m"
    assert flat(chainage_words(Decimal("1386.40"), "metres")) == "1 386.4 m"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        # 2.8 / 0.0254 = 110.24 in; 1386.4 m = 54582.7 in
        ("row 2, 2.8 m right of the crown", "row 2, 9 ft 2 in right of the crown"),
        ("hole at 1386.4 m, at the crown", "hole at 4 548 ft 7 in, at the crown"),
        # more finely than a tenth of a metre: to a tenth of an inch
        ("from 0.95 m", "from 3 ft 1.4 in"),
        ("gap 10–20 mm", "gap 0.4 in–0.8 in"),
        ("2.43 ± 0.06 m", "7 ft 11.7 in ± 2.4 in"),
        ("torque 160 N·m, 0.81 per m², 12 m² open", "torque 160 N·m, 0.81 per m², 12 m² open"),
        ("rows 2, 3 made whole", "rows 2, 3 made whole"),
    ],
)
def test_every_length_in_a_sentence_is_turned_over_and_nothing_else(words: str, said: str) -> None:
    assert flat(in_units(words, FEET)) == said
    assert in_units(words, "metres") == words


@pytest.mark.parametrize(
    ("demand", "said"),
    [
        # 0.8 / 0.0254 = 31.50 in: as a demand it is neither 31 nor 32
        ("Mesh ends at most 0.8 m from the face.", "Mesh ends at most 2 ft 7.5 in from the face."),
        ("Plates sit, no gap over 10 mm.", "Plates sit, no gap over 0.39 in."),
        ("Laps of at least 300 mm and 3 openings.", "Laps of at least 11.8 in and 3 openings."),
        ("At least 0.7 bolts per m².", "At least 0.7 bolts per m²."),
    ],
)
def test_a_demand_is_turned_over_as_finely_as_it_is_measured(demand: str, said: str) -> None:
    assert flat(limits_in_units(demand, FEET)) == said
    assert limits_in_units(demand, "metres") == demand


@given(st.decimals("0", "99999", places=3))
def test_an_entry_line_is_never_said_to_be_farther_than_it_is(line_m: Decimal) -> None:
    """And never an inch less than it is."""
    said = flat(line_words(line_m, FEET)).replace(" ft", "").removesuffix(" in")
    *feet, inches = said.rsplit(" ", 1)
    said_m = (int(feet[0].replace(" ", "")) * 12 if feet else 0) + int(inches)

    assert said_m * AN_INCH_M <= line_m < (said_m + 1) * AN_INCH_M


@pytest.mark.parametrize("value_m", ["303.18", "1386.48", "39.45", "0"])
def test_one_place_has_one_number_wherever_it_stands(value_m: str) -> None:
    place_m = Decimal(value_m)

    assert f"{tick_words(place_m, 'metres')} m" == chainage_words(place_m, "metres")
    assert span_words(place_m, place_m, "metres", " – ").endswith(
        f" – {chainage_words(place_m, 'metres')}"
    )
    assert flat(tick_words(place_m, FEET)).replace("′", " ft").replace("″", " in") in (
        flat(chainage_words(place_m, FEET)),
        f"0 ft {flat(chainage_words(place_m, FEET))}",
    )


def test_a_place_in_a_sentence_has_the_form_that_it_has_alone() -> None:
    said = f"torn mesh at {chainage_words(Decimal('1386.64'), 'metres')}"

    assert places_in_units("torn mesh at 1386.6 m", "metres") == said
    assert places_in_units("fired 3.8 m from 96.4 m", "metres") == "fired 3.8 m from 96.4 m"
    assert places_in_units("1380.0 to 1390.0 m", "metres") == span_words(
        Decimal(1380), Decimal(1390), "metres", " to "
    )
    assert "ft" in places_in_units("torn mesh at 1386.6 m", "feet and inches")


def test_a_place_goes_half_even_and_an_entry_line_down() -> None:
    """1386.48 m is 4548 ft 9.8 in."""
    at_m = Decimal("1386.48")

    assert flat(tick_words(at_m, "metres")) == "1 386.5"
    assert flat(line_tick_words(at_m, "metres")) == "1 386.4"
    assert flat(tick_words(at_m, FEET)) == "4 548′ 10″"
    assert flat(line_tick_words(at_m, FEET)) == "4 548′ 9″"
    assert flat(line_words(at_m, FEET)) == "4 548 ft 9 in"


def reading(measured: str, limit: str, unit: str = "m") -> Finding:
    return finding(
        "bolt_spacing",
        "Bolt spacing",
        Verdict.REWORK,
        measured=measured,
        uncertainty="0.010" if unit == "m" else "5",
        limit=limit,
        unit=unit,
        places=(Place(words="row 2, 2.8 m right of the crown"),),
    )


def test_a_finding_is_told_in_feet_and_inches() -> None:
    told = finding_in(reading("1.810", "at most 1.74"), FEET)

    assert flat(told.measured) == "5 ft 11.3 in"  # 71.26 in
    assert flat(told.uncertainty) == "0.4 in"
    assert flat(told.limit) == "at most 5 ft 8.5 in"  # 68.50 in
    assert told.unit == ""
    assert flat(told.places[0].words) == "row 2, 9 ft 2 in right of the crown"


def test_a_breach_of_a_millimetre_never_looks_like_the_limit_itself() -> None:
    """1.731 and 1.730 m are 68.150 and 68.110 in: alike to a tenth."""
    breach = reading("1.731", "at most 1.73")

    assert flat(measured_words(breach, FEET)) == "5 ft 8.15 in"
    assert flat(limit_words(breach, FEET)) == "at most 5 ft 8.11 in"


def test_what_is_no_length_stays_as_it_is() -> None:
    counted = finding("bolts_present", "Bolts", Verdict.REWORK, measured="44 of 45", unit="bolts")

    assert finding_in(counted, FEET) == counted


def test_only_words_change_in_an_assessment() -> None:
    """Places and verdicts stay, so that drawing and order are those that were hashed."""
    told = assessment_in(JUDGED, FEET)

    assert [it.check for it in told.findings] == [it.check for it in JUDGED.findings]
    assert [it.verdict for it in told.findings] == [it.verdict for it in JUDGED.findings]
    assert [[place.diameter_m for place in it.places] for it in told.findings] == [
        [place.diameter_m for place in it.places] for it in JUDGED.findings
    ]
    assert told.headline == JUDGED.headline
