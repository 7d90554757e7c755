from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, missing, with_bolts


def test_bolts_at_the_ends_of_the_line_are_as_low_as_demanded() -> None:
    found = finding(conforming(), "lowest_bolt")

    assert (found.verdict, found.measured) == (Verdict.ACCEPT, "1.500")


def test_without_its_lowest_bolt_a_row_starts_too_high() -> None:
    """The next bolt is 1.2396 m farther up a straight wall: 1.5 + 1.24 = 2.740 m."""
    found = finding(with_bolts(conforming(), 2, missing(9)), "lowest_bolt")

    assert (found.verdict, found.measured) == (Verdict.REWORK, "2.740")
    assert found.fix == ("add a bolt lower on the right wall, row 2",)


def test_an_offset_row_is_given_the_half_spacing_of_its_pattern() -> None:
    found = finding(conforming("O2"), "lowest_bolt")

    assert (found.verdict, found.measured) == (Verdict.ACCEPT, "1.700")
