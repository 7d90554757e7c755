"""The batches as they were delivered, and the one that was put in doubt and cleared in the end."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import partial
from typing import Final

from fieldapp.work.batches import ENGINEER_DECIDES_WITHIN
from fieldapp.work.demo.history.advancing import (
    BOLTS_LAST_DAYS,
    MESH_LASTS_DAYS,
    bolts_on,
    mesh_on,
)
from fieldapp.work.demo.history.pulling import TrueTest, first_slip
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.demo.history.truth import BAD_RESIN, ENDS, RESINS
from fieldapp.work.demo.people import ENGINEER, KEEPER, TECHNICIAN, DemoPerson
from schemas.bodies.batch import Batch
from schemas.entry import Entry
from schemas.standard import Standard

FIRST_DAY, AHEAD_DAYS = 0.2, 2.0
"""The first stood there when the record began; others come so long before they are used."""
DOUBTED_AFTER, KEPT_AFTER, CLEARED_AFTER = 0.05, 0.8, 75.0
"""Days after the first bolt of it slipped."""
BOLTS_M: Final = {"RB24": Decimal("2.4"), "PB24": Decimal("2.4"), "LB50": Decimal("5.0")}
"""How long the bolts of each type are."""
KEPT_BECAUSE: Final = "one in ten of its bolts is pulled, and nobody works beneath it until then"
CLEARED_BECAUSE: Final = "every bolt of it that slipped was replaced by one beside it"


class Batches:
    """Deliveries, and what was decided on the bad one."""

    def __init__(self, tests: Sequence[TrueTest], standard: Standard) -> None:
        self._slipped = first_slip(tests, standard)
        self._bad: tuple[Entry, Batch] | None = None

    def happenings(self) -> Iterator[Happening]:
        """Yield what was stated of them."""
        for day, batch in _delivered():
            yield Happening(max(FIRST_DAY, day - AHEAD_DAYS), partial(self._deliver, day, batch))
        if self._slipped is not None:
            day = self._slipped.day
            yield Happening(day + DOUBTED_AFTER, partial(self._doubt, day + DOUBTED_AFTER))
            yield Happening(day + KEPT_AFTER, partial(self._keep, day + KEPT_AFTER))
            yield Happening(day + CLEARED_AFTER, partial(self._clear, day + CLEARED_AFTER))

    def _deliver(self, day: float, batch: Batch, teller: Teller) -> None:
        at = teller.at(max(FIRST_DAY, day - AHEAD_DAYS))
        entry = teller.pen.write("batch", batch, teller.hands[KEEPER].id, at)
        if batch.label == BAD_RESIN.label:
            self._bad = entry, batch

    def _doubt(self, day: float, teller: Teller) -> None:
        said = {
            "in_doubt": True,
            "reason": "a bolt of it slipped in a proof test",
            "decide_by": teller.at(day) + ENGINEER_DECIDES_WITHIN,
        }
        self._restate(teller, TECHNICIAN, day, said)

    def _keep(self, day: float, teller: Teller) -> None:
        said = {"decided": "kept", "decided_because": KEPT_BECAUSE}
        self._restate(teller, ENGINEER, day, said)

    def _clear(self, day: float, teller: Teller) -> None:
        said = {"in_doubt": False, "decided": "cleared", "decided_because": CLEARED_BECAUSE}
        self._restate(teller, ENGINEER, day, said)

    def _restate(
        self, teller: Teller, who: DemoPerson, day: float, said: Mapping[str, object]
    ) -> None:
        if self._bad is None:
            raise ValueError(f"{BAD_RESIN.label} was doubted before it was delivered")
        before, body = self._bad[0], self._bad[1].model_copy(update=said)
        entry = teller.pen.write(
            "batch",
            body,
            teller.hands[who].id,
            teller.at(day),
            thing_id=before.id,
            parents=(before.revision,),
        )
        self._bad = entry, body


def _delivered() -> Iterator[tuple[float, Batch]]:
    """Yield each batch with the day from which it is used."""
    for before, it in zip((None, *RESINS), RESINS, strict=False):
        yield before.until_day if before else 0, Batch(label=it.label, of="resin")
    for day in range(0, int(ENDS), BOLTS_LAST_DAYS):
        for code, length_m in BOLTS_M.items():
            label = bolts_on(day, code)
            yield day, Batch(label=label, of="bolts", bolt_type=code, length_m=length_m)
    for day in range(0, int(ENDS), MESH_LASTS_DAYS):
        yield day, Batch(label=mesh_on(day), of="mesh")
