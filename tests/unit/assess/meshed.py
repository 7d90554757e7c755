"""Conforming rounds with sheets of mesh placed on them, as the standard puts them or as read."""

from decimal import Decimal
from typing import Any

from fieldapp.assess import assess
from schemas.bodies.round import MeshSeen, Method, SheetLap, SheetSeen
from schemas.bundle import Bundle
from schemas.findings import Finding
from tests.unit.assess.conforming import JOINT, conforming, with_round


def sheet(
    number: int,
    along: tuple[str, str],
    across: tuple[str, str] = ("-5.10", "5.10"),
    method: Method = "tape",
    **more: Any,
) -> SheetSeen:
    """A sheet by its edges along the drive, counted from the joint, and across it."""
    return SheetSeen(
        number=number,
        from_m=JOINT + Decimal(along[0]),
        to_m=JOINT + Decimal(along[1]),
        left_s_m=Decimal(across[0]),
        right_s_m=Decimal(across[1]),
        from_method=method,
        to_method=method,
        left_method=method,
        right_method=method,
        **more,
    )


def with_old(lap: int = 3) -> SheetLap:
    return SheetLap(with_sheet=0, openings=lap, held=True)


WHOLE = sheet(1, ("-0.15", "2.85"), laps=(with_old(),))
"""One strip from the old mesh past row 3, which stands 2.7 m from the joint."""


def meshed(*sheets: SheetSeen, code: str = "D1", **changes: Any) -> Bundle:
    """A round of three rows that conforms; its reach is as the sheets were placed."""
    looked = {"mesh": MeshSeen(no_holes=True, no_bagging=True), **changes}
    return of_large_sheets(with_round(conforming(code), sheets=sheets, **looked))


def of_large_sheets(bundle: Bundle) -> Bundle:
    """The same round where sheets come so large that one of them reaches from wall to wall."""
    classes = tuple(
        it.model_copy(update={"mesh": it.mesh.model_copy(update={"across_m": Decimal(12)})})
        if it.mesh and it.code == bundle.round.support_class
        else it
        for it in bundle.standard.classes
    )
    standard = bundle.standard.model_copy(update={"classes": classes})
    return bundle.model_copy(update={"standard": standard})


def found(bundle: Bundle, check: str, title: str | None = None) -> Finding:
    """The gravest finding of one check that is no contradiction, or the one so titled."""
    return next(
        it
        for it in assess(bundle).findings
        if it.check == check and (it.title == title if title else it.title != "Contradiction")
    )
