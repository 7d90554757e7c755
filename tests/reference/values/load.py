"""What rock asks of its support: pressures, spans, lengths and energies, by published rules."""

from fieldapp.assess.capacity import slab_pressure_kpa
from fieldapp.assess.load.barton import (
    bolt_length_m,
    equivalent_span_m,
    pressure_1974_kpa,
    pressure_simple_kpa,
    q_value,
    unsupported_span_m,
    wall_q,
)
from fieldapp.assess.load.em_1110 import greatest_spacing_m, least_length_m, least_pressure_kpa
from fieldapp.assess.load.energy import fallen_kj_per_m2, thrown_kj_per_m2
from fieldapp.assess.load.ground import LoadGround, load_ground
from fieldapp.assess.seen import Seen, seen_in
from tests.reference.value import Source, Value
from tests.unit.assess.conforming import conforming, missing, with_bolts

FOOT = 0.3048

CHAMBER = Source("Barton, Lien and Lunde 1974: crusher chamber in Hoek, Practical Rock "
                 "Engineering", "from memory")  # fmt: skip
BARTON = Source("Barton, Lien and Lunde 1974; RQD below 10 counts as 10", "from memory")
FORMS = Source("2 kg/cm² are 196.13 kPa, and the simple form says 200", "own")
LENGTHS = Source("Barton et al. 1980: 2 + 0.15 B/ESR", "from memory")
ARMY = Source("USACE EM 1110-1-2907, 1980, table 4-1", "from memory")
IN_FEET = Source("USACE EM 1110-1-2907, 1980: in feet the span rule is continuous", "own")
COURSE = Source(
    "Course example, its inputs and ½·m·v² + m·g·h published, the result calculated here", "own"
)
MOTION = Source("½·ρ·t·v²", "own")
BLOCK = Source("1,000 kg on 1 m² at 4 to 5 m/s: 8 to 12.5 kJ", "common practice")
STAGGERED = Source("A bolt missing in a staggered pattern: of its ground s·b a bolt of the next "
                   "row gets s·b/4 − (s/2 − e)²·s/(4·b), e = 3·s/4 − b²/s", "own")  # fmt: skip
WEIGHT = Source("Suspension: ρ·g·t over its area", "own")

RATED = (
    ((75, 9, 1.5, 2, 0.66, 2.5), 1.65, 110.653),
    ((50, 12, 1.5, 4, 0.5, 5), 0.15625, 280.321),
    ((5, 15, 1, 8, 0.66, 10), 0.0055, 1434.457),
    ((100, 0.5, 4, 0.75, 1, 1), 1066.666667, 1.131),
)
SPANS = (
    (0.1, 1.6, 1.273943),
    (1, 1.6, 3.2),
    (10, 1.6, 8.038037),
    (1, 3, 6.0),
    (100, 1, 12.619147),
)
BOLTS = ((5, 1.6, 2.46875), (5.5, 1.6, 2.515625), (5, 3, 2.25), (4.5, 1.6, 2.421875), (10, 1, 3.5))
LEAST = (
    (5.0, 1.5, 0.6, 3.0),
    (5.0, 1.2, 0.5, 2.5),
    (12.0, 0.1, 0.0, 3.786),
    (16.4 * FOOT, 4.92 * FOOT, FOOT, 2.9992),
    (19.9 * FOOT, 4 * FOOT, 0.5 * FOOT, 3.0328),
    (40 * FOOT, 5 * FOOT, FOOT, 3.81),
)
APART = (
    (2.4, 0.6, 0.9),
    (3.0, 1.5, 1.5),
    (4.5, 2.0, 1.8288),
    (14 * FOOT, 6 * FOOT, 1.8288),
    (8 * FOOT, 3 * FOOT, 1.2192),
)


def one_missing() -> Seen:
    """A staggered round, 1.38884 × 1.2 m, whose crown bolt is gone: its cell is 1.6666 m²."""
    return seen_in(with_bolts(conforming("O2"), 2, missing(4)))


def of_the_next_row(ground: LoadGround) -> float:
    """Give the ground of the bolt of row 1 that stands beside the place of the missing one."""
    bolts = [it for row in ground.gaps.seen.all_rows for it in row.all_bolts if it.anchored]
    return next(
        it.area_m2
        for it in ground.shares(ground.inside(bolts))
        if (it.bolt.row, it.bolt.position) == (1, 4)
    )


VALUES: tuple[Value, ...] = (
    CHAMBER.says("crusher chamber: Q", 4.5, "", q_value, 90, 4, 3, 1, 1, 15, within=1e-9),
    CHAMBER.says("crusher chamber: De", 9.4, "m", equivalent_span_m, 15, 1.6, within=0.05),
    CHAMBER.says("crusher chamber: bolts", 3.41, "m", bolt_length_m, 15, 1.6, within=0.005),
    CHAMBER.says("crusher chamber: span", 5.84, "m", unsupported_span_m, 4.5, 1.6, within=0.005),
    CHAMBER.says("crusher chamber: pressure of 1974", 26.4, "kPa", pressure_1974_kpa,
                 4.5, 4, 3, within=0.05),
    CHAMBER.says("crusher chamber: 200/Jr", 40.4, "kPa", pressure_simple_kpa, 4.5, 3, within=0.05),
    *(
        BARTON.says(f"Q of RQD {rated[0]:g}, SRF {rated[5]:g}", q, "", q_value, *rated,
                    within=1e-5 * q)
        for rated, q, _ in RATED
    ),
    *(
        BARTON.says(f"pressure at Q {q:.4g}, Jn {rated[1]:g}", kpa, "kPa", pressure_1974_kpa,
                    q, rated[1], rated[2], within=4e-4 * kpa)
        for rated, q, kpa in RATED
    ),
    *(
        BARTON.says(f"unsupported span at Q {q:g}, ESR {esr:g}", span, "m", unsupported_span_m,
                    q, esr, within=1e-4)
        for q, esr, span in SPANS
    ),
    *(
        BARTON.says(f"Q of a wall where Q is {q:g}", wall, "", wall_q, q, within=1e-12)
        for q, wall in ((20, 100), (10, 25), (1, 2.5), (0.1, 0.25), (0.05, 0.05))
    ),
    FORMS.says("Jn 9, Jr 1, Q 1: pressure of 1974", 196.133, "kPa", pressure_1974_kpa,
               1, 9, 1, within=1e-9),
    FORMS.says("Jr 1, Q 1: 200/Jr", 200.0, "kPa", pressure_simple_kpa, 1, 1, within=1e-9),
    *(
        LENGTHS.says(f"bolts for {span:g} m, ESR {esr:g}", length, "m", bolt_length_m, span, esr,
                     within=1e-5)
        for span, esr, length in BOLTS
    ),
    *(
        ARMY.says(f"least length, span {span:.3f} m, {apart:.3f} m apart, blocks {block:.3f} m",
                  length, "m", least_length_m, span, apart, block, within=1e-3)
        for span, apart, block, length in LEAST
    ),
    *(
        IN_FEET.says(f"least length a hair {side} {feet} ft", length, "m", least_length_m,
                     feet * FOOT + off, 0.1, 0.0, within=1e-4)
        for feet, length in ((20, 3.048), (60, 4.572))
        for side, off in (("below", -1e-6), ("above", 1e-6))
    ),
    *(
        ARMY.says(f"greatest spacing, {length:.3f} m long, blocks {block:.3f} m", apart, "m",
                  greatest_spacing_m, length, block, within=1e-3)
        for length, block, apart in APART
    ),
    *(
        ARMY.says(f"least pressure, span {span:g} m, {weight:g} kN/m³", kpa, "kPa",
                  least_pressure_kpa, span, weight, intersection=False, within=0.05)
        for span, weight, kpa in ((5, 27, 41.4), (7.5, 27, 41.4), (20, 26, 104.0))
    ),
    ARMY.says("least pressure at an intersection, span 5 m", 82.7, "kPa", least_pressure_kpa,
              5, 27, intersection=True, within=0.05),
    COURSE.says("thrown out of a wall", 8.1, "kJ/m²", thrown_kj_per_m2, 1.5, 2700, 2, within=1e-9),
    COURSE.says("fallen in the back besides", 7.95, "kJ/m²", fallen_kj_per_m2, 1.5, 2700, 0.2,
                within=0.005),
    *(
        MOTION.says(f"1 m of 2700 kg/m³ at {speed} m/s", energy, "kJ/m²", thrown_kj_per_m2,
                    1.0, 2700, speed, within=1e-9)
        for speed, energy in ((1, 1.35), (2, 5.40), (3, 12.15), (4, 21.60), (5, 33.75))
    ),
    MOTION.says("0.5 m of 2700 kg/m³ at 3 m/s", 6.075, "kJ/m²", thrown_kj_per_m2, 0.5, 2700, 3,
                within=1e-9),
    *(
        BLOCK.says(f"0.4 m of 2500 kg/m³, 1,000 kg on 1 m², at {speed} m/s", kj, "kJ",
                   thrown_kj_per_m2, 0.4, 2500, speed, within=1e-9)
        for speed, kj in ((4, 8.0), (5, 12.5))
    ),
    STAGGERED.says("crown bolt of 1.389 × 1.2 m staggered gone: ground of the bolt beside",
                   1.94565, "m²", load_ground, one_missing(), within=5e-5, take=of_the_next_row),
    WEIGHT.says("1.0 m of 27 kN/m³", 27.0, "kPa", slab_pressure_kpa, 1.0, 27_000 / 9.81,
                within=1e-9),
    WEIGHT.says("1.5 m of 2700 kg/m³", 39.73, "kPa", slab_pressure_kpa, 1.5, 2700, within=0.005),
)  # fmt: skip
