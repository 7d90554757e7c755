"""What bolts, wires and plates carry, and how they are tested when they are put in."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.bolt_tests.due_cores import cores_due
from fieldapp.assess.bolt_tests.put_in import PutIn
from fieldapp.assess.capacity import (
    bar_area_mm2,
    bolt_capacity,
    bonded_beyond_m,
    pattern_pressure_kpa,
    steel_kn,
    thread_stress_area_mm2,
)
from fieldapp.assess.laps import Sheet, lap_mm, laps_met_by_rows
from fieldapp.assess.shotcrete_cores import cores_judged
from fieldapp.assess.torque import first_every_nth_last, first_then_one_in
from schemas.bolt_test_rules import CoreRule
from tests.reference.value import Source, Value

TENTH = Source("30 CFR 57.3203(f)(2): first, every tenth and last bolt", "published")
FOURTH = Source("30 CFR 75.204(f): the first, then one in four; part groups count", "from memory")
STEEL = Source("F = A·f, A = π·d²/4", "own")
ISO_898 = Source("ISO 898-1, nominal stress areas of coarse threads", "from memory")
BOND = Source("Bond beyond the loosened rock: L − t/cos(angle), as far as resin goes", "own")
TRIBUTARY = Source("Capacity over the rock that one bolt carries", "common practice")
LAPS = Source("An opening of welded mesh is one pitch; sheets advance by size less lap", "own")
PANELS = Source("ACI 506.2: one panel for each 50 yd³ (38 m³) or each day", "published")
CORES = Source("ACI 506.2: mean at least 85 %, each at least 75 % of the strength", "published")

TESTED = (
    (27, "1 10 20 27"),
    (40, "1 10 20 30 40"),
    (9, "1 9"),
    (1, "1"),
    (0, ""),
    (5, "1 5"),
    (10, "1 10"),
    (11, "1 10 11"),
    (25, "1 10 20 25"),
    (30, "1 10 20 30"),
)
THREADS = (
    (16, 2, 157),
    (20, 2.5, 245),
    (22, 2.5, 303),
    (24, 3, 353),
    (27, 3, 459),
    (30, 3.5, 561),
)
BARS = (
    (16, 201.1, 100.5, 120.6),
    (18, 254.5, 127.2, 152.7),
    (20, 314.2, 157.1, 188.5),
    (22, 380.1, 190.1, 228.1),
    (24, 452.4, 226.2, 271.4),
    (25, 490.9, 245.4, 294.5),
    (5.6, 24.63, 12.3, 14.8),
)
ACI = CoreRule(
    cores=3,
    strength_mpa=Decimal(35),
    mean_share_at_least=Decimal("0.85"),
    each_share_at_least=Decimal("0.75"),
    age_days=28,
    one_set_per_m3=Decimal(38),
    one_set_per_day=True,
    because="ACI 506.2",
)
SPRAYED = (("100", 3), ("38", 1), ("5 6 7", 3), ("0 39", 2), ("", 0))
"""Cubic metres of each day, and the panels of all of them."""
FIRST_DAY = datetime(2031, 3, 4, 9, tzinfo=UTC)
DRILLED = (
    ("34 31 30", "0.9048", "0.8571", "passed"),
    ("38 36 26", "0.9524", "0.7429", "failed"),
    ("30 29 29", "0.8381", "0.8286", "failed"),
)


def _numbers(tested: tuple[int, ...]) -> str:
    return " ".join(str(it) for it in tested)


def _bars() -> tuple[Value, ...]:
    found: list[Value] = []
    for diameter, area, at_500, at_600 in BARS:
        bar = f"bar or wire of {diameter:g} mm, {area:g} mm²,"
        found += [
            STEEL.says(f"{diameter:g} mm: area", area, "mm²", bar_area_mm2, diameter, within=0.06),
            STEEL.says(f"{bar} at 500 MPa", at_500, "kN", steel_kn, area, 500, within=0.06),
            STEEL.says(f"{bar} at 600 MPa", at_600, "kN", steel_kn, area, 600, within=0.07),
        ]
    return tuple(found)


def _cores() -> tuple[Value, ...]:
    found: list[Value] = []
    for cores, mean, least, passed in DRILLED:
        words, mpa = f"cores of {cores} MPa, 35 specified", [Decimal(it) for it in cores.split()]
        found += [
            CORES.says(f"{words}: mean", Decimal(mean), "of it", cores_judged, mpa, ACI,
                       take=lambda it: it.mean_share),
            CORES.says(f"{words}: least", Decimal(least), "of it", cores_judged, mpa, ACI,
                       take=lambda it: it.least_share),
            CORES.says(f"{words}: verdict", passed, "", cores_judged, mpa, ACI,
                       take=lambda it: "passed" if it.passed else "failed"),
        ]  # fmt: skip
    return tuple(found)


def _on_day(day: int, m3: str) -> PutIn:
    at = FIRST_DAY + timedelta(days=day)
    return PutIn(
        round_id=str(day),
        number=day + 1,
        bolts={},
        from_m=Decimal(day),
        to_m=Decimal(day + 1),
        per_row=0,
        at=at,
        ground=None,
        batches=frozenset(),
        crew=None,
        sprayed_at=at,
        sprayed_m3=Decimal(m3),
    )


def _panels() -> tuple[Value, ...]:
    a_year_on = FIRST_DAY + timedelta(days=365)
    return tuple(
        PANELS.says(f"sprayed day by day, m³: {m3 or 'nothing'}", panels, "panels", cores_due,
                    [_on_day(day, it) for day, it in enumerate(m3.split())], 0, ACI, a_year_on,
                    take=lambda due: due.of if due is not None else 0)
        for m3, panels in SPRAYED
    )  # fmt: skip


VALUES: tuple[Value, ...] = (
    *(
        ISO_898.says(f"stress area of a coarse M{across} thread", area, "mm²",
                     thread_stress_area_mm2, across, pitch, within=0.003 * area)
        for across, pitch, area in THREADS
    ),
    *(
        TENTH.says(f"torque tests of {bolts} bolts", which, "", first_every_nth_last, bolts, 10,
                   take=_numbers)
        for bolts, which in TESTED
    ),
    *(
        FOURTH.says(f"torque tests of {bolts} bolts, one head", count, "bolts", first_then_one_in,
                    bolts, 4, take=len)
        for bolts, count in ((27, 8), (25, 7))
    ),
    *_bars(),
    BOND.says("2.4 m bolt, 1.5 m loosened, straight: bonded", 0.9, "m", bonded_beyond_m,
              2.4, 1.5, 0, within=1e-9),
    BOND.says("2.4 m bolt, 1.5 m loosened, at 20°: bonded", 0.8037, "m", bonded_beyond_m,
              2.4, 1.5, 20, within=5e-5),
    BOND.says("2.4 m point anchor of 0.6 m of resin, 1 m loosened: bonded", 0.6, "m",
              bonded_beyond_m, 2.4, 1, 0, 0.6, within=1e-9),
    BOND.says("steel 130, bond 22.05, plate 100 kN: what governs", "bond", "", bolt_capacity,
              130, 22.05, 100, take=lambda it: it.governs),
    *(
        TRIBUTARY.says(f"160 kN on {side:g} × {side:g} m", kpa, "kPa", pattern_pressure_kpa,
                       160, side, side, within=0.05)
        for side, kpa in ((1.5, 71.1), (2.0, 40.0))
    ),
    LAPS.says("lap of 3 openings at 100 mm", Decimal(300), "mm", lap_mm, 3, Decimal(100)),
    *(
        LAPS.says(f"2.4 m sheets lapped 0.3 m, rows at {row} m: laps of 9 met", met, "laps",
                  laps_met_by_rows, Sheet(Decimal("2.4"), Decimal("0.3")), Decimal(row), 9,
                  Decimal("0.15"), Decimal("0.1"), take=len)
        for row, met in (("1.2", 2), ("1.05", 9))
    ),
    *_panels(),
    *_cores(),
)  # fmt: skip
