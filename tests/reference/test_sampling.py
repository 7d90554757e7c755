"""How many are looked at, and what it says of the rest."""

from decimal import Decimal
from fractions import Fraction

import pytest

from fieldapp.assess.sampling import (
    Plan,
    chance_of_at_most,
    looks_at_a_process,
    most_bad,
    single_plan,
)
from fieldapp.assess.sampling.iso_plan import AQLS, Inspection, Level, code_letter
from tests.reference.record import reference

FROM_LOT = (
    2, 9, 16, 26, 51, 91, 151, 281, 501, 1201, 3201, 10_001, 35_001, 150_001, 500_001,
)  # fmt: skip
NINETY_FIVE = Decimal("0.95")


@reference("ISO 2859-1:1999, table 1; MIL-STD-105E, table I", "published")
@pytest.mark.parametrize(
    ("level", "letters"),
    [
        ("S-1", "A A A A B B B B C C C C D D D"),
        ("S-2", "A A A B B B C C C D D D E E E"),
        ("S-3", "A A B B C C D D E E F F G G H"),
        ("S-4", "A A B C C D E E F G G H J J K"),
        ("I", "A A B C C D E F G H J K L M N"),
        ("II", "A B C D E F G H J K L M N P Q"),
        ("III", "B C D E F G H J K L M N P Q R"),
    ],
)
def test_code_letters(level: Level, letters: str) -> None:
    to_lot = [lot - 1 for lot in FROM_LOT[1:]]

    assert [code_letter(lot, level) for lot in FROM_LOT] == letters.split()
    assert [code_letter(lot, level) for lot in to_lot] == letters.split()[:-1]


@reference("MIL-STD-105E, table II-A: Re of level II, arrows followed with their n", "published")
@pytest.mark.parametrize(
    ("lot", "plans"),
    [  # n and Ac at AQL 0.65, 1.0, 1.5, 2.5, 4.0, 6.5 and 10
        (60_000, "500/7 500/10 500/14 500/21 315/21 200/21 125/21"),
        (9_000, "200/3 200/5 200/7 200/10 200/14 200/21 125/21"),
        (3_000, "125/2 125/3 125/5 125/7 125/10 125/14 125/21"),
        (1_000, "80/1 80/2 80/3 80/5 80/7 80/10 80/14"),
        (400, "80/1 50/1 50/2 50/3 50/5 50/7 50/10"),
        (200, "20/0 50/1 32/1 32/2 32/3 32/5 32/7"),
        (120, "20/0 13/0 32/1 20/1 20/2 20/3 20/5"),
        (60, "20/0 13/0 8/0 20/1 13/1 13/2 13/3"),
        (40, "20/0 13/0 8/0 5/0 13/1 8/1 8/2"),
        (24, "20/0 13/0 8/0 5/0 3/0 8/1 5/1"),
    ],
)
def test_normal_plans(lot: int, plans: str) -> None:
    assert rows(lot, "normal", AQLS[4:]) == plans.split()


@reference("MIL-STD-105E, table II-B: Re of level II, arrows followed with their n", "published")
@pytest.mark.parametrize(
    ("lot", "plans"),
    [
        (9_000, "200/2 200/3 200/5 200/8 200/12 200/18 125/18"),
        (3_000, "125/1 125/2 125/3 125/5 125/8 125/12 125/18"),
        (1_000, "125/1 80/1 80/2 80/3 80/5 80/8 80/12"),
        (400, "125/1 80/1 50/1 50/2 50/3 50/5 50/8"),
        (200, "32/0 80/1 50/1 32/1 32/2 32/3 32/5"),
        (120, "32/0 20/0 50/1 32/1 20/1 20/2 20/3"),
        (60, "32/0 20/0 13/0 32/1 20/1 13/1 13/2"),
        (40, "32/0 20/0 13/0 8/0 20/1 13/1 8/1"),
    ],
)
def test_tightened_plans(lot: int, plans: str) -> None:
    assert rows(lot, "tightened", AQLS[4:]) == plans.split()


@reference("MIL-STD-105E, tables II-A and II-B, AQL 0.10 to 0.40", "from memory")
def test_plans_of_the_finest_limits() -> None:
    assert rows(400_000, "normal", AQLS[:4]) == ["800/2", "800/3", "800/5", "800/7"]
    assert rows(1_000, "normal", AQLS[:4]) == ["125/0", "80/0", "50/0", "125/1"]
    assert rows(400_000, "tightened", AQLS[:4]) == ["800/1", "800/2", "800/3", "800/5"]
    assert rows(1_000, "tightened", AQLS[:4]) == ["200/0", "125/0", "80/0", "200/1"]


def rows(lot: int, inspection: Inspection, aqls: tuple[Decimal, ...]) -> list[str]:
    plans = [single_plan(lot, "II", aql, inspection) for aql in aqls]
    return [f"{plan.looks}/{plan.lets_pass}" for plan in plans]


@reference("ISO 2859-1:1999: a sample as large as the lot is 100 % inspection", "published")
def test_a_plan_never_asks_for_more_than_there_are() -> None:
    assert single_plan(10, "II", Decimal("1.0")) == Plan("B", 10, 0, all_of_them=True)


@reference("n 20, Ac 1, 120 bolts, 6 and 12 bad", "closed form")
@pytest.mark.parametrize(("bad", "chance"), [(6, 0.739), (12, 0.37)])
def test_a_plan_lets_many_bad_bolts_pass(bad: int, chance: float) -> None:
    assert float(chance_of_at_most(1, 20, bad, 120)) == pytest.approx(chance, abs=0.01)


@reference("Three of 45 drawn find the one bad bolt 6.7 % of the time", "closed form")
def test_three_bolts_drawn_are_a_deterrent() -> None:
    assert 1 - chance_of_at_most(0, 3, 1, 45) == Fraction(1, 15)


@reference("Exact hypergeometric inversion, one-sided 95 %", "closed form")
@pytest.mark.parametrize(
    ("of", "looked_at", "found", "bad"),
    [(24, 8, 0, 6), (60, 13, 0, 11), (60, 20, 1, 11), (100, 20, 1, 19), (120, 32, 0, 9),
     (400, 50, 1, 34), (120, 47, 0, 5), (24, 24, 2, 2)],
)  # fmt: skip
def test_so_many_may_be_bad(of: int, looked_at: int, found: int, bad: int) -> None:
    assert most_bad(of, looked_at, found, NINETY_FIVE) == bad


@reference("Success-run theorem, n = ⌈ln(1 − C)/ln(R)⌉: 22, 29, 59, 299", "published")
@pytest.mark.parametrize(
    ("confidence", "good", "looks"),
    [("0.80", "0.80", 8), ("0.90", "0.90", 22), ("0.90", "0.95", 45), ("0.95", "0.90", 29),
     ("0.95", "0.95", 59), ("0.95", "0.99", 299), ("0.99", "0.95", 90), ("0.99", "0.99", 459)],
)  # fmt: skip
def test_so_many_good_ones_in_a_row(confidence: str, good: str, looks: int) -> None:
    assert looks_at_a_process(1 - Decimal(good), Decimal(confidence)) == looks


@reference("ISO 16269-6, distribution-free: 59, 93, 124, 153, 181 for 95/95", "published")
@pytest.mark.parametrize(
    ("confidence", "good", "looks"),
    [("0.95", "0.95", [59, 93, 124, 153, 181, 208]), ("0.95", "0.90", [29, 46, 61, 76, 89, 103]),
     ("0.90", "0.90", [22, 38, 52, 65, 78, 91])],
)  # fmt: skip
def test_so_many_with_some_let_pass(confidence: str, good: str, looks: list[int]) -> None:
    bad = 1 - Decimal(good)

    assert [looks_at_a_process(bad, Decimal(confidence), n) for n in range(6)] == looks
