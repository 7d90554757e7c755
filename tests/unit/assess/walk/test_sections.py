"""Supported ground in sections: their borders stay where they are while the drive advances."""

from decimal import Decimal

import pytest

from fieldapp.assess.walk import Section, section_number, sections_of

TEN = Decimal(10)


def cut(from_m: str, to_m: str, section_m: str = "10") -> list[tuple[str, str]]:
    found = sections_of(Decimal(from_m), Decimal(to_m), Decimal(section_m))
    return [(str(it.from_m), str(it.to_m)) for it in found]


def test_a_drive_is_cut_at_multiples_of_the_section() -> None:
    assert cut("0", "30") == [("0", "10"), ("10", "20"), ("20", "30")]


def test_the_first_and_the_last_section_may_be_shorter() -> None:
    assert cut("7.4", "21.3") == [("7.4", "10"), ("10", "20"), ("20", "21.3")]


def test_borders_stay_where_they_were_when_the_drive_advances() -> None:
    assert cut("0", "24.8")[:2] == cut("0", "21.3")[:2]


def test_a_section_of_metres_and_tenths_has_exact_borders() -> None:
    assert cut("0", "8.4", "1.2") == [
        ("0", "1.2"), ("1.2", "2.4"), ("2.4", "3.6"), ("3.6", "4.8"), ("4.8", "6.0"),
        ("6.0", "7.2"), ("7.2", "8.4"),
    ]  # fmt: skip


def test_where_no_ground_is_supported_there_is_no_section() -> None:
    assert cut("12", "12") == cut("12", "8") == []


def test_a_section_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="no sections of 0 m"):
        cut("0", "30", "0")


def test_a_border_is_in_the_section_inbye_of_it() -> None:
    numbers = [section_number(Decimal(it), TEN) for it in ("0", "9.9", "10", "10.1")]

    assert numbers == [0, 0, 1, 1]


def test_sections_that_only_share_a_border_do_not_overlap() -> None:
    section = Section(TEN, Decimal(20))

    assert not section.overlaps(Decimal(0), TEN)
    assert not section.overlaps(Decimal(20), Decimal(30))
    assert section.overlaps(Decimal("19.9"), Decimal(30))
