"""Chainages measured anew: what was read before lies elsewhere today."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.rechaining import today_m
from schemas.bodies.heading import Rechained

MEASURED = datetime(2031, 3, 1, tzinfo=UTC)
BEFORE, AFTER = MEASURED - timedelta(days=1), MEASURED + timedelta(days=1)


def rechained(from_m: str, by_m: str, days: int = 0) -> Rechained:
    at = MEASURED + timedelta(days=days)
    return Rechained.model_validate({"from_m": from_m, "by_m": by_m, "at": at})


def today(read_m: str, *shifts: Rechained, at: datetime = BEFORE, ends: bool = False) -> str:
    return str(today_m(Decimal(read_m), at, shifts, ends_there=ends))


def test_what_was_read_before_is_shifted_from_there_inbye() -> None:
    shift = rechained("100", "3.2")

    assert today("99.9", shift) == "99.9"
    assert (today("100", shift), today("140", shift)) == ("103.2", "143.2")


def test_what_was_read_since_is_as_it_was_read() -> None:
    assert today("140", rechained("100", "3.2"), at=AFTER) == "140"


def test_ground_that_ends_where_shifting_begins_stays() -> None:
    assert today("100", rechained("100", "3.2"), ends=True) == "100"


def test_one_shift_follows_the_other_in_the_order_of_their_days() -> None:
    later, first = rechained("102", "-1", days=30), rechained("100", "3")

    assert today("100", later, first) == "102", "103 first, and that lies inbye of 102"


def test_shifts_of_one_day_all_speak_of_what_was_read_before() -> None:
    assert today("199.5", rechained("100", "1"), rechained("200", "1")) == "200.5"


def test_nothing_lies_before_the_origin() -> None:
    assert today("1", rechained("0", "-3.2")) == "0"
