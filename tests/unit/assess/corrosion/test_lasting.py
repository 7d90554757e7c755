"""What is left is the lower of reading and age; zinc goes first; a doubt lengthens no life."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from fieldapp.assess.corrosion import Lasts, Piece, Place, SteelJudged, Thickness, judged
from schemas.corrosion_rules import CorrosionRate, Steel

PUT_UP = datetime(2011, 3, 1, tzinfo=UTC)


def at(years: float) -> datetime:
    return PUT_UP + timedelta(days=365.25 * years)


def read(years: float, mm: str, u: str = "0.05") -> Thickness:
    return Thickness(at(years), Decimal(mm), Decimal(u))


def usual(steel: str, zinc: str = "0") -> CorrosionRate:
    return CorrosionRate(
        corrosivity="C4",
        steel_um_per_year=Decimal(steel),
        zinc_um_per_year=Decimal(zinc),
        because="S-2, 10.7",
    )


def piece(steel: Steel, new: str, zinc: str = "0", surfaces: int = 2) -> Piece:
    return Piece(steel, Decimal(new), PUT_UP, Decimal(zinc), surfaces)


def place(years: float, expected: CorrosionRate | None, at_least: str = "0.8") -> Place:
    return Place(Decimal(at_least), expected, at(years), at(years + 1))


def lasts(years: str | None, earliest: str | None, latest: str | None) -> Lasts:
    middle, first, last = (None if it is None else Decimal(it) for it in (years, earliest, latest))
    return Lasts(middle, first, last)


@pytest.mark.parametrize(
    ("what", "years", "um", "share"),
    [
        (piece("bar", "22"), 20, "100", "0.6694"),
        (piece("wire", "5.6"), 10, "50", "0.6747"),
        (piece("tube", "3"), 20, "50", "0.3333"),
        (piece("tube", "3", surfaces=1), 20, "50", "0.6667"),
    ],
)
def test_what_age_comes_to_where_nothing_was_read(
    what: Piece, years: int, um: str, share: str
) -> None:
    found = judged(what, [], place(years, usual(um), "0.2"))

    assert (found.share, found.governs) == (Decimal(share), "its age")
    assert found.read_share is None
    assert found.rate is None


@pytest.mark.parametrize(
    ("zinc_um", "a_year", "gone_after"),
    [("85", "2.1", 40.5), ("85", "4.2", 20.2), ("19.3", "4.2", 4.6)],
)
def test_zinc_goes_first(zinc_um: str, a_year: str, gone_after: float) -> None:
    wire = piece("wire", "5.6", zinc_um)
    before = judged(wire, [], place(gone_after - 0.1, usual("50", a_year)))
    after = judged(wire, [], place(gone_after + 1.1, usual("50", a_year)))

    assert before.share == 1
    assert after.share is not None
    assert Decimal("0.95") < after.share < 1


def test_zinc_that_is_left_lengthens_the_life() -> None:
    """80 % of 5.6 mm wire is 5.0088 mm: 295.6 µm each side, 5.9 years at 50; 42 µm of zinc: 10."""
    wire = piece("wire", "5.6", "42")

    assert judged(wire, [], place(0, usual("50", "4.2"))).lasts == lasts("15.9", "15.9", "15.9")
    assert judged(wire, [], place(10, usual("50", "4.2"))).lasts == lasts("5.9", "5.9", "5.9")
    assert judged(wire, [], place(0, usual("50", "0"))).lasts == lasts(None, None, None)


def test_zinc_ends_no_later_than_steel_was_read_thin() -> None:
    wire = piece("wire", "5.6", "42")
    found = judged(wire, [read(2, "5.4")], place(4, usual("50", "4.2")))

    assert found.governs == "what was read"
    assert found.share == Decimal("0.8622")  # 5.4 mm less two years of 0.1 mm
    assert found.lasts == lasts("1.9", "1.9", "1.9")


def test_zinc_that_was_looked_for_and_was_gone_keeps_nothing_any_more() -> None:
    """84 µm of zinc at 2.1 µm a year would last 40 years; after 5 none was there."""
    wire, expected = piece("wire", "5.6", "84"), place(10, usual("50", "2.1"))
    seen = Thickness(at(5), Decimal("5.6"), Decimal("0.05"), zinc_gone=True)

    assert judged(wire, [read(5, "5.6")], expected).share == 1
    assert judged(wire, [seen], expected).share == Decimal("0.8294"), "0.25 mm off each side"


def test_readings_while_zinc_is_there_tell_nothing_of_steel() -> None:
    wire = piece("wire", "5.6", "42")
    whole = [read(n, "5.6") for n in range(1, 7)]
    found = judged(wire, whole, place(6, usual("50", "4.2")))

    assert found.rate is not None
    assert found.rate.um_per_year == 0
    assert found.lasts == lasts("9.9", "9.9", "9.9")
    assert judged(wire, whole, place(6, None)).lasts is None


def test_age_counts_where_the_visible_part_looks_better() -> None:
    bar = piece("bar", "22")
    found = judged(bar, [read(20, "22")], place(20, usual("50")))

    assert found.read_share == 1
    assert found.share == Decimal("0.8264")
    assert found.governs == "its age"


def test_the_standard_s_rate_counts_until_readings_rule_it_out() -> None:
    bar = piece("bar", "22")
    month = [read(9.9, "21.9"), read(10, "21.9")]
    years = [read(n, f"{22 - n * 0.01:.2f}", "0.01") for n in range(1, 11)]

    assert judged(bar, month, place(10, usual("50"))).share == Decimal("0.9112")
    assert judged(bar, years, place(10, usual("50"))).share == Decimal("0.9909")


def test_a_rate_with_an_interval_gives_a_life_with_one() -> None:
    """19.677 mm carry 80 %; 22 to 21 mm in ten years: 50 ± 1.96·√2·25/10 µm a year."""
    bar = piece("bar", "22")
    found = judged(bar, [read(0, "22"), read(10, "21")], place(10, None))

    assert found.share == Decimal("0.9112")
    assert found.lasts == lasts("13.2", "11.6", "15.3")
    assert found.may_fall_before_next_walk is False


def test_a_life_whose_early_end_lies_before_the_next_walk_says_so() -> None:
    bar = piece("bar", "22")
    soon = judged(bar, [read(9, "19.9"), read(10, "19.8")], place(10, None))

    assert soon.lasts is not None
    assert soon.lasts.years == Decimal("1.2")
    assert soon.lasts.latest is None
    assert soon.may_fall_before_next_walk is True


def test_what_has_fallen_below_is_not_given_years() -> None:
    found = judged(piece("bar", "22"), [read(10, "19.6")], place(10, usual("0")))

    assert found.lasts == replace(lasts("0.0", "0.0", "0.0"), has_fallen=True)
    assert found.lasts.words == "already less than must be left"


def test_what_is_enough_for_days_has_not_fallen_below_yet() -> None:
    assert lasts("0.0", "0.0", "0.0").words == "enough for less than 0.1 years"


def test_what_was_read_long_ago_goes_on_rusting() -> None:
    bar = piece("bar", "22")
    then = judged(bar, [read(4, "21.5")], place(4, usual("50")))
    now = judged(bar, [read(4, "21.5")], place(9, usual("50")))

    assert (then.read_share, now.read_share) == (Decimal("0.9551"), Decimal("0.9551"))
    assert (then.share, now.share) == (Decimal("0.9551"), Decimal("0.9112"))


def test_where_nothing_is_known_nothing_is_said() -> None:
    nothing = SteelJudged(None, None, None, None, None, None, None, None, ())

    assert judged(piece("bar", "22"), [], place(10, None)) == nothing
    unknown = Piece("bar", Decimal(22), None)
    assert judged(unknown, [], place(10, usual("50"))) == nothing


def test_one_reading_without_a_rate_says_what_is_left_and_not_how_long() -> None:
    found = judged(piece("bar", "22"), [read(10, "20", "0.2")], place(10, None))

    assert (found.read_share, found.read_doubt) == (Decimal("0.8264"), Decimal("0.0165"))
    assert found.share == found.read_share
    assert found.lasts is None
    assert found.may_fall_before_next_walk is None


def test_a_refused_reading_is_told_and_counts_for_nothing() -> None:
    found = judged(piece("bar", "22"), [read(-1, "10"), read(5, "30")], place(10, usual("50")))

    assert len(found.refused) == 2
    assert (found.read_share, found.governs) == (None, "its age")


def test_of_two_readings_on_one_day_the_thinner_counts() -> None:
    found = judged(piece("bar", "22"), [read(10, "20"), read(10, "21")], place(10, None))

    assert found.read_share == Decimal("0.8264")


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (
            judged(piece("bar", "22"), [read(0, "22"), read(10, "21")], place(10, None)),
            "at most 91.1 % left, by what was read; enough for 11.6 to 15.3 years",
        ),
        (
            judged(piece("bar", "22"), [read(9, "19.9"), read(10, "19.8")], place(10, None)),
            "at most 81 % left, by what was read; enough for 0.5 years or more",
        ),
        (
            judged(piece("bar", "22"), [], place(10, usual("50"))),
            "at most 91.1 % left, by its age; enough for 13.2 years",
        ),
        (
            judged(piece("bar", "22"), [read(10, "19.6")], place(10, usual("50"))),
            "at most 79.4 % left, by what was read; already less than must be left",
        ),
        (
            judged(piece("bar", "22"), [read(10, "19.6")], place(10, None)),
            "at most 79.4 % left, by what was read; already less than must be left",
        ),
        (
            judged(piece("bar", "22"), [read(10, "21")], place(10, None)),
            "at most 91.1 % left, by what was read; no rate is known",
        ),
        (
            judged(piece("bar", "22"), [], place(10, usual("0"))),
            "at most 100 % left, by its age; at this rate it lasts",
        ),
        (judged(piece("bar", "22"), [], place(10, None)), "not known what is left"),
    ],
)
def test_it_is_said_with_at_most(found: SteelJudged, words: str) -> None:
    assert found.words == words


def test_a_reading_thicker_than_new_lends_no_years() -> None:
    thick = judged(piece("bar", "22"), [read(0, "22.1")], place(0, usual("50")))

    assert thick.lasts == judged(piece("bar", "22"), [], place(0, usual("50"))).lasts


def test_it_is_told_whether_years_go_by_the_standard_s_rate_or_by_readings() -> None:
    bar = piece("bar", "22")
    month = [read(9.9, "21.9"), read(10, "21.9")]
    years = [read(n, f"{22 - n * 0.01:.2f}", "0.01") for n in range(1, 11)]

    assert judged(bar, [], place(10, usual("50"))).usual == usual("50")
    assert judged(bar, month, place(10, usual("50"))).usual == usual("50"), "not ruled out"
    assert judged(bar, years, place(10, usual("50"))).usual is None, "ruled out"
    assert judged(bar, years, place(10, None)).usual is None


def test_readings_while_zinc_is_there_leave_the_standard_s_rate_in_place() -> None:
    wire = piece("wire", "5.6", "42")
    whole = [read(n, "5.6") for n in range(1, 7)]

    assert judged(wire, whole, place(6, usual("50", "4.2"))).usual == usual("50", "4.2")
