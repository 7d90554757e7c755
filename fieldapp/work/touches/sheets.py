"""Touches on placed sheets of mesh: put one down, drag an edge, read a lap, take one away."""

from decimal import Decimal
from typing import Final, Literal

from pydantic import Field

from fieldapp.work.touches.touch import Touch, with_fields
from schemas.bodies.round import Method, Round, SheetLap, SheetSeen
from schemas.numbers import Millimetres, Offset

SheetEdge = Literal["outbye", "inbye", "left", "right"]

FIELDS: Final[dict[SheetEdge, tuple[str, str]]] = {
    "outbye": ("from_m", "from_method"),
    "inbye": ("to_m", "to_method"),
    "left": ("left_s_m", "left_method"),
    "right": ("right_s_m", "right_method"),
}
"""Where a sheet keeps an edge, and how it was read."""


class SheetPlaced(Touch):
    """A sheet lies there: as the standard puts it, until its edges or laps are read."""

    what: Literal["sheet"] = "sheet"
    sheet: SheetSeen

    def onto(self, seen: Round) -> Round:
        return _with_sheet(seen, self.sheet)


class SheetEdgeRead(Touch):
    """An edge of a sheet was dragged to where it was seen."""

    what: Literal["sheet edge"] = "sheet edge"
    sheet: int = Field(ge=1, le=240)
    edge: SheetEdge
    at_m: Decimal = Field(ge=-60, le=99_999)
    """A chainage, or a distance from the crown."""
    method: Method

    def onto(self, seen: Round) -> Round:
        known = sheet_of(seen, self.sheet)
        if known is None:
            return seen
        place, method = FIELDS[self.edge]
        return _with_sheet(seen, with_fields(known, **{place: self.at_m, method: self.method}))


class SheetLapRead(Touch):
    """The least width of a lap of a sheet, as counted or taped.

    The sheet is moved along to lap so much, as long as nobody read where it lies.
    """

    what: Literal["sheet lap"] = "sheet lap"
    sheet: int = Field(ge=1, le=240)
    with_sheet: int = Field(ge=0, le=240)
    openings: int | None = Field(default=None, ge=0, le=40)
    least_mm: Millimetres | None = None
    method: Method = "tape"
    shift_along_m: Offset = Decimal(0)
    """How far it lies inbye of where it was placed."""
    shift_across_m: Offset = Decimal(0)
    """How far it lies right of where it was placed."""

    def onto(self, seen: Round) -> Round:
        known = sheet_of(seen, self.sheet)
        if known is None:
            return seen
        read = {"openings": self.openings, "least_mm": self.least_mm, "method": self.method}
        moved = _shifted(known, self.shift_along_m, self.shift_across_m)
        return _with_sheet(seen, _with_lap(moved, self.with_sheet, **read))


class SheetLapHeld(Touch):
    """Whether a plate bears on both sheets along the whole lap, and where not."""

    what: Literal["sheet lap held"] = "sheet lap held"
    sheet: int = Field(ge=1, le=240)
    with_sheet: int = Field(ge=0, le=240)
    held: bool
    where: str | None = None

    def onto(self, seen: Round) -> Round:
        known = sheet_of(seen, self.sheet)
        if known is None:
            return seen
        said = {"held": self.held, "not_held_where": self.where}
        return _with_sheet(seen, _with_lap(known, self.with_sheet, **said))


class SheetTakenAway(Touch):
    """A sheet that was placed is not there. Laps that were read with it go too."""

    what: Literal["sheet away"] = "sheet away"
    sheet: int = Field(ge=1, le=240)

    def onto(self, seen: Round) -> Round:
        left = (sheet for sheet in seen.sheets if sheet.number != self.sheet)
        return with_fields(seen, sheets=tuple(self._without(sheet) for sheet in left))

    def _without(self, sheet: SheetSeen) -> SheetSeen:
        laps = tuple(lap for lap in sheet.laps if lap.with_sheet != self.sheet)
        return with_fields(sheet, laps=laps)


def sheet_of(seen: Round, number: int) -> SheetSeen | None:
    """Give a placed sheet; None where it was taken away again."""
    return next((sheet for sheet in seen.sheets if sheet.number == number), None)


def _with_sheet(seen: Round, sheet: SheetSeen) -> Round:
    others = [known for known in seen.sheets if known.number != sheet.number]
    sheets = sorted([*others, sheet], key=lambda known: known.number)
    return with_fields(seen, sheets=tuple(sheets))


def _with_lap(sheet: SheetSeen, with_sheet: int, **changes: object) -> SheetSeen:
    known = next(
        (lap for lap in sheet.laps if lap.with_sheet == with_sheet),
        SheetLap(with_sheet=with_sheet),
    )
    others = [lap for lap in sheet.laps if lap.with_sheet != with_sheet]
    laps = sorted([*others, with_fields(known, **changes)], key=lambda lap: lap.with_sheet)
    return with_fields(sheet, laps=tuple(laps))


def _shifted(sheet: SheetSeen, along_m: Decimal, across_m: Decimal) -> SheetSeen:
    return with_fields(
        sheet,
        from_m=max(Decimal(0), sheet.from_m + along_m),
        to_m=max(Decimal(0), sheet.to_m + along_m),
        left_s_m=sheet.left_s_m + across_m,
        right_s_m=sheet.right_s_m + across_m,
    )
