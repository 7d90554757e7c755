"""What each bolt of a round carries, as figures for engineers: a row for each bolt that counts."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Literal

from pydantic import BaseModel, ConfigDict

from fieldapp.assess.capacity import Governs
from fieldapp.assess.load.demand import Of
from fieldapp.assess.load.loads import BoltLoad
from fieldapp.assess.seen import seen_in
from fieldapp.assess.shaken import shaken
from fieldapp.report.drive.loads import loads_by_domain
from schemas.bundle import Bundle

_STEPS = {"area": Decimal("0.0001"), "load": Decimal("0.1"), "factor": Decimal("0.01")}


class BoltLoadTold(BaseModel):
    """One bolt: the ground nearest to it, what that demands, and what the bolt carries."""

    model_config = ConfigDict(frozen=True)

    row: int
    chainage_m: Decimal
    s_m: Decimal
    """Along the rock from the crown, looking toward the face, left negative."""
    zone: str
    area_m2: Decimal
    unit: Literal["kN", "kJ"]
    carries: Decimal | None
    """None: nobody has looked at it, or not since an event."""
    gives_way_first: Governs | None
    demanded: Decimal
    factor: Decimal | None
    """How many times it carries what is demanded; None where nothing is, or it isn't known."""


def bolt_loads(bundle: Bundle) -> tuple[BoltLoadTold, ...]:
    """Give what each bolt carries, by the class of its own ground; none where none demands."""
    return tuple(_told(bundle))


def _told(bundle: Bundle) -> Iterator[BoltLoadTold]:
    for loads, shown, own in loads_by_domain(seen_in(bundle)):
        first = {id(bolt): it.capacity.governs for bolt, it in loads.carried}
        known = not shaken(loads.seen)
        for it in shown.bolts:
            if it.share.bolt.row in own:
                looked = known and it.share.bolt.looked_at
                yield _row(it, shown.of, first[id(it.share.bolt)], known=looked)


def _row(it: BoltLoad, of: Of, first: Governs, *, known: bool) -> BoltLoadTold:
    bolt = it.share.bolt
    return BoltLoadTold(
        row=bolt.row,
        chainage_m=Decimal(str(bolt.chainage_m)),
        s_m=Decimal(str(bolt.s_m)),
        zone=bolt.zone,
        area_m2=_rounded(it.share.area_m2, "area"),
        unit="kN" if of == "pressure" else "kJ",
        carries=_rounded(it.carries, "load") if known else None,
        gives_way_first=first if known and of == "pressure" else None,
        demanded=_rounded(it.demanded, "load"),
        factor=_rounded(it.factor, "factor") if known and it.demanded > 0 else None,
    )


def _rounded(value: float, what: str) -> Decimal:
    return Decimal(repr(value)).quantize(_STEPS[what])
