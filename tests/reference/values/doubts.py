"""Uncertainty and decisions: the examples of JCGM 100 and JCGM 106."""

from decimal import Decimal

from fieldapp.assess.uncertainty import combined_uncertainty, conformance_probability, decide
from tests.reference.value import Source, Value

GUM = Source("JCGM 100:2008, H.1.4 and 5.2.2", "from memory")
JCGM_106 = Source("JCGM 106:2012, 7.3", "from memory")
TABLE_1 = Source("JCGM 106:2012, 7.3, table 1", "from memory")
GUARD = Source("JCGM 106:2012, 8.3.2 and 8.3.3", "from memory")

ONE = Decimal(1)
READ = (
    ("0.97", "at most", "within"),
    ("0.981", "at most", "straddles"),
    ("1.02", "at most", "straddles"),
    ("1.021", "at most", "beyond"),
    ("1.02", "at least", "within"),
    ("1.00", "at least", "straddles"),
    ("0.979", "at least", "beyond"),
)

VALUES: tuple[Value, ...] = (
    GUM.says("end gauge: 25, 9.7, 2.9 and 16.6 nm", 32, "nm", combined_uncertainty,
             [(1.0, 25.0), (1.0, 9.7), (1.0, 2.9), (1.0, 16.6)], within=0.5),
    GUM.says("ten resistors in series, alike but apart", 0.32, "Ω", combined_uncertainty,
             [(1.0, 0.100)] * 10, within=0.005),
    JCGM_106.says("breakdown voltage −5.47 V, u 0.05, limit −5.40", 0.92, "",
                  conformance_probability, -5.47, -5.40, "at most", 0.05, within=0.005),
    JCGM_106.says("burst strength 509.7 kPa, u 8.6, limit 490", 0.99, "",
                  conformance_probability, 509.7, 490, "at least", 8.6, within=0.005),
    *(
        TABLE_1.says(f"conformance at z = {z}", chance, "", conformance_probability, -z, 0.0,
                     "at most", 1.0, within=2e-3)
        for chance, z in ((0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09))
    ),
    GUARD.says("guard band of 2u: chance of a wrong accept", 0.023, "", decide, Decimal("0.98"),
               ONE, "at most", Decimal("0.01"), Decimal(2), again=False, within=0.0005,
               take=lambda it: 1 - it.conformance),
    *(
        GUARD.says(f"{read} against {sense} 1, u 0.01, k 2", answer, "", decide, Decimal(read),
                   ONE, sense, Decimal("0.01"), Decimal(2), again=False,
                   take=lambda it: it.answer.name.lower())
        for read, sense, answer in READ
    ),
)  # fmt: skip
