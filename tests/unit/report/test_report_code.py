"""The code of a report: what it holds, and that no slip of a finger goes unseen."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.report.report_code import is_report_code, of_number, parse_report_code, report_code
from fieldapp.report.round_sheet.code import SheetCodeUnread, sheet_code
from schemas.check_character import DIGITS

AT = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
hashes = st.binary(min_size=32, max_size=32).map(bytes.hex)
moments = st.integers(min_value=0, max_value=900_000_000).map(
    lambda seconds: datetime(2020, 1, 1, tzinfo=UTC) + timedelta(seconds=seconds)
)


@given(st.sampled_from("HMR"), st.integers(min_value=0, max_value=2**128), moments, hashes)
def test_scanned_and_typed_alike_are_read_back(
    kind: str, of: int, at: datetime, sha256: str
) -> None:
    code = report_code(kind, of_number(of), at, sha256)  # type: ignore[arg-type]

    assert parse_report_code(code.payload) == code
    assert parse_report_code(code.readable.lower().replace("-", " ")) == code
    assert code.at == at


def test_a_code_of_an_older_way_of_making_is_read_and_says_so() -> None:
    """Printed before damage told what walks said of it, and tests how long they were touched."""
    old = replace(report_code("M", of_number(12345), AT, "4f" * 32), making=0)

    assert (old.digits[0], parse_report_code(old.readable)) == ("M", old)
    assert parse_report_code(old.payload).is_older
    assert not report_code("M", of_number(12345), AT, "4f" * 32).is_older


def test_every_single_misread_digit_is_found() -> None:
    code = report_code("H", of_number(12345), AT, "4f" * 32)
    plain = code.digits
    for place, digit in enumerate(plain):
        for other in set(DIGITS) - {digit}:
            with pytest.raises(SheetCodeUnread):
                parse_report_code(plain[:place] + other + plain[place + 1 :])


def test_the_code_of_a_round_sheet_is_none_of_a_report() -> None:
    sheet = sheet_code("01976f3a-52c4-7d10-9f4e-3b0a77c1e2d5", "4f" * 32)

    assert not is_report_code(sheet.readable)
    assert is_report_code(report_code("R", "00000000", AT, "4f" * 32).readable)
