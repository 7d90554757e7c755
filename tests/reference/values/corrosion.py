"""What rust leaves, and how fast it goes in air."""

from decimal import Decimal
from operator import itemgetter

from fieldapp.assess.corrosion.atmosphere import Metal, attack_um, corrosivity, range_um
from fieldapp.assess.corrosion.residual import share_doubt, share_left, thinnest_mm
from schemas.corrosion_rules import Corrosivity
from tests.reference.value import Source, Value

SQUARE = Source("Area: (d/d₀)², rounded to four digits", "own")
WALL = Source("A tube by its wall, both sides: (t − 2Δ)/t", "own")
MOMENT = Source("Plastic moment of a rectangle, b·t²/4", "own")
SPREAD = Source("JCGM 100:2008, equation (10): 2·d/d₀²·u", "published")
ISO_9223_STEEL = Source("ISO 9223:2012, table 2, steel", "published")
ISO_9223_ZINC = Source("ISO 9223:2012, table 2, zinc", "from memory")
ISO_9224 = Source("ISO 9224:2012, table 3", "from memory")
BEYOND = Source("ISO 9224:2012, beyond 20 years: r·(20ᵇ + b·20ᵇ⁻¹·(t − 20))", "from memory")

BARS = (
    ("5.6", "5.0", "0.7972"),
    ("5.6", "4.5", "0.6457"),
    ("4.0", "3.0", "0.5625"),
    ("3.0", "2.5", "0.6944"),
    ("22", "20", "0.8264"),
    ("22", "18", "0.6694"),
    ("20", "14.142", "0.5000"),
    ("4.0", "3.8", "0.9025"),
    ("100", "90", "0.81"),
)
STEEL = (
    (1.3, "C1"),
    (1.31, "C2"),
    (25.0, "C2"),
    (25.1, "C3"),
    (50.0, "C3"),
    (80.0, "C4"),
    (200.0, "C5"),
    (200.1, "CX"),
)
ZINC = (
    (0.1, "C1"),
    (0.11, "C2"),
    (0.7, "C2"),
    (2.1, "C3"),
    (4.2, "C4"),
    (8.4, "C5"),
    (25.0, "CX"),
)

STEEL_RANGES: tuple[tuple[Corrosivity, float, float], ...] = (
    ("C1", 0, 1.3),
    ("C2", 1.3, 25),
    ("C3", 25, 50),
    ("C4", 50, 80),
    ("C5", 80, 200),
    ("CX", 200, 700),
)
ZINC_RANGES: tuple[tuple[Corrosivity, float, float], ...] = (
    ("C1", 0, 0.1),
    ("C2", 0.1, 0.7),
    ("C3", 0.7, 2.1),
    ("C4", 2.1, 4.2),
    ("C5", 4.2, 8.4),
    ("CX", 8.4, 25),
)

YEARS = (1, 2, 5, 10, 15, 20)
ATTACK: tuple[tuple[Metal, float, tuple[float, ...]], ...] = (
    ("steel", 1.3, (1.3, 1.9, 3.0, 4.3, 5.4, 6.2)),
    ("steel", 25, (25, 36, 58, 83, 103, 120)),
    ("steel", 50, (50, 72, 116, 167, 206, 240)),
    ("steel", 80, (80, 115, 186, 267, 330, 383)),
    ("steel", 200, (200, 287, 464, 667, 824, 958)),
    ("zinc", 0.7, (0.7, 1.2, 2.6, 4.6, 6.3, 8.0)),
    ("zinc", 2.1, (2.1, 3.7, 7.8, 13.7, 19, 24)),
    ("zinc", 4.2, (4.2, 7.4, 15.5, 27.3, 38, 48)),
    ("zinc", 8.4, (8.4, 14.8, 31.1, 54.6, 75.9, 95.9)),
)

VALUES: tuple[Value, ...] = (
    *(
        SQUARE.says(
            f"bar of {new} mm, {left} mm left",
            Decimal(share),
            "of it",
            share_left,
            "bar",
            Decimal(new),
            Decimal(left),
        )
        for new, left, share in BARS
    ),
    *(
        WALL.says(
            f"tube wall of 3 mm, {left} mm left",
            Decimal(share),
            "of it",
            share_left,
            "tube",
            Decimal(3),
            Decimal(left),
        )
        for left, share in (("2", "0.6667"), ("1", "0.3333"))
    ),
    MOMENT.says(
        "plate of 8 mm, 6 mm left",
        Decimal("0.5625"),
        "of it",
        share_left,
        "plate",
        Decimal(8),
        Decimal(6),
    ),
    *(
        SQUARE.says(
            f"wire of 5.6 mm with {share} left: diameter",
            mm,
            "mm",
            thinnest_mm,
            "wire",
            Decimal("5.6"),
            Decimal(share),
            within=1e-4,
        )
        for share, mm in (("0.9", 5.3126), ("0.8", 5.0088), ("0.75", 4.8497), ("0.5", 3.9598))
    ),
    SPREAD.says(
        "20 of 22 mm, u 0.2 mm: doubt of the share",
        Decimal("0.0165"),
        "of it",
        share_doubt,
        "bar",
        Decimal(22),
        Decimal(20),
        Decimal("0.2"),
    ),
    SPREAD.says(
        "wall of 2 of 3 mm, u 0.1 mm: doubt of the share",
        Decimal("0.0333"),
        "of it",
        share_doubt,
        "tube",
        Decimal(3),
        Decimal(2),
        Decimal("0.1"),
    ),
    *(
        ISO_9223_STEEL.says(
            f"steel, {rate:g} µm in the first year", category, "", corrosivity, "steel", rate
        )
        for rate, category in STEEL
    ),
    *(
        ISO_9223_ZINC.says(
            f"zinc, {rate:g} µm in the first year", category, "", corrosivity, "zinc", rate
        )
        for rate, category in ZINC
    ),
    *(
        ISO_9223_STEEL.says(
            f"steel, range of {category}, {end}",
            um,
            "µm",
            range_um,
            "steel",
            category,
            take=itemgetter(nth),
        )
        for category, *ends in STEEL_RANGES
        for nth, (end, um) in enumerate(zip(("above", "up to"), ends, strict=True))
    ),
    *(
        ISO_9223_ZINC.says(
            f"zinc, range of {category}, {end}",
            um,
            "µm",
            range_um,
            "zinc",
            category,
            take=itemgetter(nth),
        )
        for category, *ends in ZINC_RANGES
        for nth, (end, um) in enumerate(zip(("above", "up to"), ends, strict=True))
    ),
    *(
        ISO_9224.says(
            f"{metal} at {rate:g} µm in the first year, after {years}",
            um,
            "µm",
            attack_um,
            metal,
            rate,
            years,
            within=0.6 if metal == "steel" else 0.06,
        )
        for metal, rate, after in ATTACK
        for years, um in zip(YEARS, after, strict=True)
    ),
    BEYOND.says(
        "steel at 50 µm in the first year, after 30",
        302.201,
        "µm",
        attack_um,
        "steel",
        50,
        30,
        within=1e-3,
    ),
    BEYOND.says(
        "zinc at 2.1 µm in the first year, after 30",
        33.7362,
        "µm",
        attack_um,
        "zinc",
        2.1,
        30,
        within=1e-3,
    ),
)
