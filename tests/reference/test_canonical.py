"""Canonical JSON beside RFC 8785, whose own examples hold fractions and odd keys too.

What our subset refuses is checked on the library that writes for us, so that a change there
would be noticed before it changes a revision.
"""

import struct

import pytest
import rfc8785

from schemas.canonical import canonical_bytes, parse_json
from tests.reference.record import reference

# The text of the RFC's sample in section 3.2.2, its "string" and "literals".
SAMPLE = rb"""{
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}"""
# Section 3.2.4: the sample's canonical bytes, without "numbers".
WRITTEN = rb"""{"literals":[null,true,false],"string":"%s$\u000f\nA'B\"\\\\\"/"}""" % "€".encode()


@reference("RFC 8785, 3.2.2 to 3.2.4: the sample without its numbers", "published")
def test_the_sample_of_texts_and_words() -> None:
    assert canonical_bytes(parse_json(SAMPLE, source="RFC 8785")) == WRITTEN


@reference("RFC 8785, 3.2.2: the sample's numbers", "published")
def test_the_numbers_of_the_sample() -> None:
    numbers = [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001]

    assert rfc8785.dumps(numbers) == b"[333333333.3333333,1e+30,4.5,0.002,1e-27]"


@reference("RFC 8785, 3.2.3: names are sorted by their UTF-16 units", "published")
def test_the_order_of_names() -> None:
    names = ["\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6"]
    in_order = ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    written = rfc8785.dumps(dict.fromkeys(names, 0)).decode()

    places = [written.index(f'"{name}"') for name in in_order if name != "\r"]
    assert places == sorted(places)
    assert written.startswith('{"\\r":0')


@pytest.mark.parametrize(
    ("bits", "text"),
    [
        (0x0000000000000000, "0"),
        (0x8000000000000000, "0"),
        (0x0000000000000001, "5e-324"),
        (0x8000000000000001, "-5e-324"),
        (0x7FEFFFFFFFFFFFFF, "1.7976931348623157e+308"),
        (0x4340000000000000, "9007199254740992"),
        (0xC340000000000000, "-9007199254740992"),
        (0x4430000000000000, "295147905179352830000"),
        (0x44B52D02C7E14AF5, "9.999999999999997e+22"),
        (0x44B52D02C7E14AF6, "1e+23"),
        (0x44B52D02C7E14AF7, "1.0000000000000001e+23"),
        (0x444B1AE4D6E2EF4E, "999999999999999700000"),
        (0x444B1AE4D6E2EF4F, "999999999999999900000"),
        (0x444B1AE4D6E2EF50, "1e+21"),
        (0x3EB0C6F7A0B5ED8C, "9.999999999999997e-7"),
        (0x3EB0C6F7A0B5ED8D, "0.000001"),
        (0x41B3DE4355555553, "333333333.3333332"),
        (0x41B3DE4355555557, "333333333.33333343"),
        (0xBECBF647612F3696, "-0.0000033333333333333333"),
        (0x43143FF3C1CB0959, "1424953923781206.2"),
    ],
)
@reference("RFC 8785, appendix B: numbers by their bits", "published")
def test_the_numbers_of_appendix_b(bits: int, text: str) -> None:
    (number,) = struct.unpack(">d", bits.to_bytes(8, "big"))

    assert rfc8785.dumps(number) == text.encode()


@pytest.mark.parametrize("bits", [0x7FFFFFFFFFFFFFFF, 0x7FF0000000000000])
@reference("RFC 8785, appendix B: NaN and infinity are errors", "published")
def test_what_is_no_number_is_an_error(bits: int) -> None:
    (number,) = struct.unpack(">d", bits.to_bytes(8, "big"))

    with pytest.raises(rfc8785.FloatDomainError):
        rfc8785.dumps(number)
    with pytest.raises(ValueError, match="no canonical JSON"):
        canonical_bytes(number)


@reference("RFC 7493 (I-JSON), 2.2: whole numbers up to 2^53 - 1 are exact", "published")
def test_the_largest_whole_numbers() -> None:
    assert canonical_bytes([2**53 - 1, 1 - 2**53]) == b"[9007199254740991,-9007199254740991]"
    for beyond in (2**53, -(2**53)):
        with pytest.raises(ValueError, match="2\\^53"):
            canonical_bytes(beyond)
