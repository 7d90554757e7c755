"""How many are looked at, what it says of the rest, and what tests of a few say."""

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from operator import attrgetter

from fieldapp.assess.sampling import Plan, chance_of_at_most, looks_needed, most_bad, single_plan
from fieldapp.assess.sampling.iso_plan import code_letter
from fieldapp.assess.statistics.characteristic import by_en_1990, k_n, tolerance_factor
from fieldapp.assess.statistics.control_chart import individuals_chart
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.median_interval import Middle, middle
from fieldapp.assess.statistics.proportion import clopper_pearson
from tests.reference.value import Source, Value

LETTERS = Source("ISO 2859-1:1999, table 1; MIL-STD-105E, table I", "published")
NORMAL = Source("MIL-STD-105E, table II-A, arrows followed with their n", "published")
HYPERGEOMETRIC = Source("Exact hypergeometric chance", "own")
NIST_7241 = Source("NIST/SEMATECH e-Handbook, 7.2.4.1", "from memory")
NEWCOMBE = Source("Newcombe (1998), table I, exact", "from memory")
CLOSED = Source("1 − 0.025^(1/n), exact where none or all failed", "own")
EN_1990 = Source(
    "EN 1990:2002, table D1 (prints up to 0.016 less than its formula)", "from memory"
)
ISO_16269 = Source("ISO 16269-6, one-sided, 95 % at 95 % confidence", "from memory")
NIST_6322 = Source("NIST/SEMATECH e-Handbook, 6.3.2.2: ten flow rates", "from memory")
D7 = Source("EN 1990:2002, D7.2, eight loads of mean 116.06, s 5.095 kN", "own")

ORDER = Source("Conover, order statistics around the median, binomial with ½", "from memory")

NINETY_FIVE = Decimal("0.95")
LOTS = (24, 40, 60, 75, 120, 200, 240, 400, 900, 1000, 2500, 3000)
LETTER_OF_LOT = "C D E E F G G H J J K K"
AQLS = ("0.65", "1.0", "1.5", "2.5", "4.0", "6.5")
PLANS = (
    (3000, "125/2 125/3 125/5 125/7 125/10 125/14"),
    (1000, "80/1 80/2 80/3 80/5 80/7 80/10"),
    (400, "80/1 50/1 50/2 50/3 50/5 50/7"),
    (120, "20/0 13/0 32/1 20/1 20/2 20/3"),
    (60, "20/0 13/0 8/0 20/1 13/1 13/2"),
    (40, "20/0 13/0 8/0 5/0 13/1 8/1"),
    (24, "20/0 13/0 8/0 5/0 3/0 8/1"),
)
CHANCES = (
    (0, 13, 2, 40, Fraction(9, 20)),
    (1, 13, 3, 60, Fraction(7567, 8555)),
    (1, 13, 6, 60, Fraction(139449, 227563)),
    (1, 20, 5, 100, Fraction(22594, 30555)),
    (0, 5, 2, 24, Fraction(57, 92)),
    (0, 19, 1, 20, Fraction(1, 20)),
)
MAY_BE_BAD = (
    (24, 8, 0, 6),
    (60, 13, 0, 11),
    (60, 20, 1, 11),
    (100, 20, 1, 19),
    (120, 32, 0, 9),
    (400, 50, 1, 34),
    (120, 47, 0, 5),
)
SHARES = (
    (NIST_7241, 4, 20, "0.90", "0.0714", "0.4010"),
    (NEWCOMBE, 81, 263, "0.95", "0.2527", "0.3676"),
    (NEWCOMBE, 15, 148, "0.95", "0.0578", "0.1617"),
    (NEWCOMBE, 0, 20, "0.95", "0.0000", "0.1684"),
    (NEWCOMBE, 1, 29, "0.95", "0.0009", "0.1776"),
    (CLOSED, 0, 59, "0.95", "0.0000", "0.0606"),
    (CLOSED, 20, 20, "0.95", "0.8316", "1.0000"),
)
KNOWN = {1: 2.31, 2: 2.01, 3: 1.89, 4: 1.83, 5: 1.80, 6: 1.77, 8: 1.74, 10: 1.72, 30: 1.67}
UNKNOWN = {3: 3.37, 4: 2.63, 5: 2.33, 6: 2.18, 8: 2.00, 10: 1.92, 20: 1.76, 30: 1.73}
TOLERANCE = {2: 26.260, 3: 7.656, 4: 5.144, 5: 4.203, 6: 3.708, 8: 3.187, 10: 2.911, 100: 1.927}
RATES = ("49.6", "47.6", "49.9", "51.3", "47.8", "51.2", "52.6", "52.4", "53.6", "52.1")
EIGHT = ("112.0", "118.5", "121.0", "109.5", "115.0", "124.0", "117.5", "111.0")


def _decimals(figures: Iterable[str]) -> list[Decimal]:
    return [Decimal(it) for it in figures]


def _plan(plan: Plan) -> str:
    return f"{plan.looks}/{plan.lets_pass}"


def _interval(found: Interval) -> str:
    return f"{found.low} to {found.high}"


def _ends(found: Middle) -> str:
    return f"{found.interval.low} and {found.interval.high}" if found.interval else "none"


VALUES: tuple[Value, ...] = (
    *(
        LETTERS.says(f"lot of {lot}, level II: code letter", letter, "", code_letter, lot, "II")
        for lot, letter in zip(LOTS, LETTER_OF_LOT.split(), strict=True)
    ),
    *(
        NORMAL.says(f"lot of {lot}, level II, AQL {aql} %: looks / lets pass", plan, "",
                    single_plan, lot, "II", Decimal(aql), "normal", take=_plan)
        for lot, plans in PLANS
        for aql, plan in zip(AQLS, plans.split(), strict=True)
        if int(plan.split("/")[0]) < lot
    ),
    *(
        HYPERGEOMETRIC.says(f"{bad} bad of {of}, {looked_at} looked at: {found} or fewer found",
                            float(chance), "", chance_of_at_most, found, looked_at, bad, of,
                            within=1e-12, take=float)
        for found, looked_at, bad, of, chance in CHANCES
    ),
    *(
        HYPERGEOMETRIC.says(f"of {of}, at most 5 % bad at 95 %: looks", looks, "looks",
                            looks_needed, of, Decimal("0.05"), NINETY_FIVE)
        for of, looks in ((120, 47), (45, 28), (20, 19), (1, 1), (0, 0))
    ),
    *(
        HYPERGEOMETRIC.says(f"{found} found in {looked_at} of {of}: so many may be bad", bad,
                            "bolts", most_bad, of, looked_at, found, NINETY_FIVE)
        for of, looked_at, found, bad in MAY_BE_BAD
    ),
    *(
        source.says(f"{bad} of {tested}, {confidence}", f"{low} to {high}", "", clopper_pearson,
                    bad, tested, Decimal(confidence), take=_interval)
        for source, bad, tested, confidence, low, high in SHARES
    ),
    *(
        EN_1990.says(f"k of {n}, variation known", k, "", k_n, n, v_known=True, within=0.02)
        for n, k in KNOWN.items()
    ),
    *(
        EN_1990.says(f"k of {n}, variation unknown", k, "", k_n, n, v_known=False, within=0.02)
        for n, k in UNKNOWN.items()
    ),
    *(
        ISO_16269.says(f"factor of {n}", k, "", tolerance_factor, n, NINETY_FIVE, within=6e-4)
        for n, k in TOLERANCE.items()
    ),
    D7.says("characteristic load, normal", Decimal("105.8"), "kN", by_en_1990, _decimals(EIGHT),
            "normal", None, least_v=Decimal(0), take=lambda it: it.value_kn),
    D7.says("characteristic load, variation known to be 5 %", Decimal("105.9"), "kN", by_en_1990,
            _decimals(EIGHT), "normal", Decimal("0.05"), least_v=Decimal(0),
            take=lambda it: it.value_kn),
    D7.says("characteristic load, lognormal", Decimal("106.2"), "kN", by_en_1990,
            _decimals(EIGHT), "lognormal", None, least_v=Decimal(0), take=lambda it: it.value_kn),
    *(
        NIST_6322.says(f"chart of single values: {name}", figure, "", individuals_chart,
                       _decimals(RATES), Decimal("0.0001"), within=1e-3,
                       take=attrgetter(name))
        for name, figure in (("middle", 50.81), ("mean_range", 1.8778), ("upper", 55.8041),
                             ("lower", 45.8159))
    ),
    *(
        ORDER.says(f"ranks around the median of {n}, 95 %", f"{low} and {high}", "", middle,
                   [Decimal(it) for it in range(1, n + 1)], NINETY_FIVE, Decimal("0.1"),
                   take=_ends)
        for n, low, high in ((6, 1, 6), (10, 2, 9), (20, 6, 15), (30, 10, 21))
    ),
)  # fmt: skip
