"""Sheets, strips and resin that a round takes."""

from decimal import Decimal

from fieldapp.assess.laps import Sheet
from fieldapp.assess.take_off.mesh import pieces_across, strip_width_m, strips_from
from fieldapp.assess.take_off.resin import Hole, capsule_m, filled_share
from tests.reference.value import Source, Value

SHEETS = Source("⌈(P − lap)/(w − lap)⌉: n sheets reach n·w − (n − 1)·lap", "own")
ORDER = Source("A strip is as wide as the advance and the lap", "common practice")
PACK = Source("A pack of three strips, 30 m in all, meshes two to three rounds", "common practice")
RING = Source("L·(Dh² − Db²)/Dc²: the ring is as large as the capsule", "own")

LAP_M = Decimal("0.3")
SHEET = Sheet(Decimal("2.4"), LAP_M)
TIGHT, WIDE = (Hole(Decimal(mm), Decimal(20), Decimal(24)) for mm in (28, 30))
TWO_M = Decimal("2.0")

VALUES: tuple[Value, ...] = (
    *(
        SHEETS.says(f"2.4 m sheets across {line} m", 5, "", pieces_across, Decimal(line), SHEET)
        for line in ("9.916", "10.726")
    ),
    ORDER.says(
        "strip for 3.6 m lapped 0.3 m", 3.9, "m", strip_width_m, Decimal("3.6"), LAP_M, None
    ),
    *(
        PACK.says(
            f"rounds of a pack, {line} m of rock", rounds, "", strips_from, Decimal(30),
            Decimal(line), 3, LAP_M,
        )
        for line, rounds in (("9.916", 3), ("10.0", 3), ("12.916", 2))
    ),
    RING.says("capsule, hole 28 mm, bar 20 mm", 1.333, "m", capsule_m, TWO_M, TIGHT),
    RING.says("capsule, hole 30 mm, bar 20 mm", 1.736, "m", capsule_m, TWO_M, WIDE),
    RING.says(
        "the same in a hole of 30 mm", 0.768, "", filled_share, Decimal(4) / 3, TWO_M, WIDE
    ),
)  # fmt: skip
