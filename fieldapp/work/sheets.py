"""Placing sheets of mesh by touch: where the next one comes, what an edge or a lap can be."""

import math
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Final

from fieldapp.assess.demanded import line_of
from fieldapp.assess.laps import Sheet
from fieldapp.assess.mesh.fits import doubted, rock_of
from fieldapp.assess.mesh.held import plated_along
from fieldapp.assess.mesh.lapped import Lap, is_read, laps_of
from fieldapp.assess.mesh.placed import Box, Placed, placed_sheets
from fieldapp.assess.profile.profile import SupportedLine
from fieldapp.assess.readings import face_readings, last_row_m
from fieldapp.assess.seen import Seen, seen_in
from fieldapp.assess.take_off.mesh import pieces_across
from fieldapp.work.questions import Asker, Choice, Digits, Question
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    SheetEdgeRead,
    SheetLapHeld,
    SheetLapRead,
    SheetPlaced,
    SheetTakenAway,
)
from fieldapp.work.touches.sheets import FIELDS, SheetEdge, sheet_of
from schemas.bodies.round import Method, SheetSeen
from schemas.numbers import rounded
from schemas.standard import Mesh

STEP_M: Final = Decimal("0.05")
"""An edge is dragged in steps of this."""
_ALONG: Final[tuple[SheetEdge, SheetEdge]] = ("outbye", "inbye")
_ACROSS: Final[tuple[SheetEdge, SheetEdge]] = ("left", "right")
_WAYS: Final = {
    (True, False): "inbye of the joint",
    (True, True): "outbye of the joint",
    (False, False): "right of the crown",
    (False, True): "left of the crown",
}
SMALLEST_M: Final = Decimal("0.2")
"""No sheet is dragged smaller than this."""


@dataclass(frozen=True)
class Placing:
    """The sheets of one round, and what can be done with them; each act is one touch."""

    work: RoundWork
    asker: Asker

    @cached_property
    def mesh(self) -> Mesh:
        """The class's mesh.

        Raises
        ------
        ValueError
            The class has none: a bug, because nothing is placed there.
        """
        if self.work.support_class.mesh is None:
            raise ValueError(f"no mesh in class {self.work.support_class.code}")
        return self.work.support_class.mesh

    @property
    def placed(self) -> tuple[SheetSeen, ...]:
        """As they lie."""
        return self.work.seen.sheets

    @cached_property
    def laps(self) -> tuple[Lap, ...]:
        """Every lap between them and with the old mesh."""
        return laps_of(self._seen)

    @cached_property
    def _seen(self) -> Seen:
        return seen_in(self.work.bundle(self.asker.at))

    @cached_property
    def lap_m(self) -> Decimal:
        """The lap that the standard demands."""
        limit = self.work.support_class.limits.mesh_lap
        return Decimal(0) if limit is None else limit.at_least_mm / 1000

    def laps_of(self, number: int) -> tuple[Lap, ...]:
        """Give the laps of one sheet with those that lay before it."""
        return tuple(
            lap for lap in self.laps if lap.second.number == number and not lap.second.old
        )

    # --- placing ----------------------------------------------------------------------------

    def next_sheet(self) -> SheetPlaced:
        """Put down the next sheet: beside the last one, or the first of the next course inbye."""
        number = max((it.number for it in self.placed), default=0) + 1
        corner_m, left_m = self._next_corner()
        from_m = max(Decimal(0), corner_m)
        sheet = SheetSeen(
            number=number,
            from_m=from_m,
            to_m=self._to_m(from_m),
            left_s_m=left_m,
            right_s_m=left_m + self._across_m,
        )
        return SheetPlaced(at=self.asker.at, by=self.asker.by, sheet=sheet)

    def _to_m(self, from_m: Decimal) -> Decimal:
        """Give where a sheet ends: no farther than the face, where it is cut or folded."""
        to_m, read = from_m + self.mesh.along_drive_m, face_readings(self.work.seen)
        if not read:
            return to_m
        face_m = last_row_m(self.work.seen) + max(it.value_m for it in read.values())
        return min(to_m, face_m) if from_m + SMALLEST_M < face_m else to_m

    def _next_corner(self) -> tuple[Decimal, Decimal]:
        if not self.placed:
            return self._first_from_m(), self._first_left_m()
        last = self.placed[-1]
        if float(last.right_s_m) < self._line.right_s_m:
            return last.from_m, last.right_s_m - self.lap_m
        leftmost = min(self.placed, key=lambda it: (it.left_s_m, -it.to_m))
        return leftmost.to_m - self.lap_m, leftmost.left_s_m

    @property
    def _line(self) -> SupportedLine:
        return line_of(self.work.support_class, self.work.seen.profile)

    @cached_property
    def _across_m(self) -> Decimal:
        """Size of a sheet along the rock; a strip of a roll is cut as long as it has to be."""
        if self.mesh.kind == "sheets of welded mesh":
            return self.mesh.across_m
        needed_m = Decimal(repr(self._line.length_m)) + 2 * (self.mesh.strip_tail_m or 0)
        return max(self.mesh.across_m, math.ceil(needed_m / STEP_M) * STEP_M)

    def _first_from_m(self) -> Decimal:
        """Lap the old mesh: that of the round before, else as if it ended half a lap inbye."""
        before = self.work.previous.sheets if self.work.previous else ()
        ends_m = max((it.to_m for it in before), default=None)
        joint_m = self.work.seen.joint_m
        return joint_m - self.lap_m / 2 if ends_m is None else ends_m - self.lap_m

    def _first_left_m(self) -> Decimal:
        """Lay so many sheets side by side as the supported line needs, over its middle."""
        line, each_m = self._line, self._across_m
        sheets = pieces_across(Decimal(repr(line.length_m)), Sheet(each_m, self.lap_m))
        whole_m = sheets * each_m - (sheets - 1) * self.lap_m
        middle_m = Decimal(repr((line.left_s_m + line.right_s_m) / 2))
        return rounded((middle_m - whole_m / 2) / STEP_M, Decimal(1)) * STEP_M

    # --- one sheet --------------------------------------------------------------------------

    def edge_at(self, number: int, edge: SheetEdge, at_m: float) -> Decimal | None:
        """Give where an edge may be put that a finger drags to a place; None: no such sheet."""
        sheet = sheet_of(self.work.seen, number)
        if sheet is None:
            return None
        known = getattr(sheet, FIELDS[edge][0])
        steps = rounded((Decimal(repr(at_m)) - known) / STEP_M, Decimal(1))
        return _within(sheet, edge, known + steps * STEP_M, rock_of(self._seen))

    def width_at(self, number: int, edge: SheetEdge, at_m: Decimal) -> Decimal | None:
        """Give the narrowest lap that an edge would leave there; None where it laps no sheet."""
        moved = Placing(self.work.touched(self.edge_read(number, edge, at_m)), self.asker)
        widths = [
            lap.width_m
            for lap in moved.laps
            if lap.width_m is not None and _is_at(lap, number, edge)
        ]
        return min(widths, default=None)

    def edge_read(
        self, number: int, edge: SheetEdge, at_m: Decimal, method: Method = "paced"
    ) -> SheetEdgeRead:
        """Say that an edge was seen at a place: what a finger dragged there is an estimate."""
        return SheetEdgeRead(
            at=self.asker.at, by=self.asker.by, sheet=number, edge=edge, at_m=at_m, method=method
        )

    def edge_asked(self, number: int, edge: SheetEdge) -> Question | None:
        """Ask where an edge is by tape: how far off the joint or the crown, to the side it is on.

        None: no such sheet.
        """
        sheet = sheet_of(self.work.seen, number)
        if sheet is None:
            return None
        along = edge in _ALONG
        start_m = self.work.seen.joint_m if along else Decimal(0)
        before = getattr(sheet, FIELDS[edge][0]) < start_m
        way = _WAYS[along, before]

        def taped(value: Decimal, method: Method) -> SheetEdgeRead:
            return self.edge_read(
                number, edge, start_m - value if before else start_m + value, method
            )

        return Question(
            key=f"sheet {number} {edge}",
            stage="mesh",
            ask=f"Sheet {number}, {edge} edge: how far {way}?",
            hint="Along the rock.",
            choices=(),
            answered=False,
            digits=Digits("m", "", 2, Decimal(0), Decimal(60), ("tape", "laser"), taped),
        )

    def lap_read(self, lap: Lap, openings: int) -> SheetLapRead:
        """Say how many openings a lap has at its narrowest, and move the sheet to lap so."""
        number = 0 if lap.first is None or lap.first.old else lap.first.number
        along_m, across_m = self._shift(lap, openings * self.mesh.pitch_mm / 1000)
        return SheetLapRead(
            at=self.asker.at,
            by=self.asker.by,
            sheet=lap.second.number,
            with_sheet=number,
            openings=openings,
            shift_along_m=along_m,
            shift_across_m=across_m,
        )

    def _shift(self, lap: Lap, width_m: Decimal) -> tuple[Decimal, Decimal]:
        """Give how far the sheet has to move, along and across; an edge that was read stays."""
        first, second = lap.first, lap.second
        edges = _ALONG if lap.across else _ACROSS
        if first is None or any(second.methods[edge] != "assumed" for edge in edges):
            return Decimal(0), Decimal(0)
        if lap.across:
            return first.box.to_m - second.box.from_m - width_m, Decimal(0)
        return Decimal(0), first.box.right_s_m - second.box.left_s_m - width_m

    def lap_held(self, lap: Lap, where: str | None) -> SheetLapHeld:
        """Say whether plates bear on both sheets along a lap; `where` they don't."""
        number = 0 if lap.first is None or lap.first.old else lap.first.number
        return SheetLapHeld(
            at=self.asker.at,
            by=self.asker.by,
            sheet=lap.second.number,
            with_sheet=number,
            held=where is None,
            where=where,
        )

    def asked(self, number: int) -> Question | None:
        """Ask what can't be of a sheet, else what is not known of its laps with those before."""
        placed = next((it for it in placed_sheets(self._seen) if it.number == number), None)
        words = None if placed is None else doubted(self._seen, placed)
        if placed is not None and words is not None:
            return self._again_asked(placed, words)
        for lap in self.laps_of(number):
            if not any(map(is_read, lap.read)):
                return self._openings_asked(lap)
            if not self._is_held_known(lap):
                return self._held_asked(lap)
        return None

    def _again_asked(self, placed: Placed, words: str) -> Question:
        """Ask about a sheet that can't lie as it was placed."""
        as_standard = SheetPlaced(
            at=self.asker.at, by=self.asker.by, sheet=self._on_the_rock(placed)
        )
        return Question(
            key=f"sheet again {words}",
            stage="mesh",
            ask=f"Where is it? {words}",
            hint="Place every sheet by itself. Other sizes have to stand in the standard.",
            choices=(
                Choice("As standard", as_standard, "put there, assumed"),
                Choice("Take away", self.taken_away(placed.number), "no such sheet"),
            ),
            answered=False,
        )

    def _on_the_rock(self, placed: Placed) -> SheetSeen:
        """Give a sheet of the standard's size, as near as it can lie to where it was placed."""
        rock, along_m, across_m = rock_of(self._seen), self.mesh.along_drive_m, self._across_m
        from_m = max(rock.from_m, min(placed.box.from_m, rock.to_m - along_m))
        left_m = max(rock.left_s_m, min(placed.box.left_s_m, rock.right_s_m - across_m))
        return SheetSeen(
            number=placed.number,
            from_m=from_m,
            to_m=self._to_m(from_m),
            left_s_m=left_m,
            right_s_m=left_m + across_m,
        )

    def _openings_asked(self, lap: Lap) -> Question:
        limit = self.work.support_class.limits.mesh_lap
        demanded = limit.at_least_openings if limit else 0
        counts = range(max(0, demanded - 2), demanded + 3)
        return Question(
            key=f"sheet lap {lap.words}",
            stage="mesh",
            ask=f"{lap.words}: openings at its narrowest?".capitalize(),
            hint="Count whole openings where the sheets lap least.",
            choices=tuple(Choice(str(n), self.lap_read(lap, n), "openings") for n in counts),
            answered=False,
        )

    def _held_asked(self, lap: Lap) -> Question:
        return Question(
            key=f"sheet lap held {lap.words}",
            stage="mesh",
            ask=f"{lap.words}: a plate bears on both along all of it?".capitalize(),
            hint="Follow it from end to end.",
            choices=(
                Choice("Yes", self.lap_held(lap, None)),
                Choice("No", self.lap_held(lap, "somewhere along it"), "not all along"),
            ),
            answered=False,
        )

    def _is_held_known(self, lap: Lap) -> bool:
        """Whether somebody said, of this lap or of all of it, or the plates on the map do."""
        whole = any(it.held is not None for it in self.work.seen.laps if it.number == lap.number)
        if whole or any(it.held is not None for it in lap.read):
            return True
        return plated_along(self._seen, lap) is not None

    def taken_away(self, number: int) -> SheetTakenAway:
        """Take a sheet away again."""
        return SheetTakenAway(at=self.asker.at, by=self.asker.by, sheet=number)


def _is_at(lap: Lap, number: int, edge: SheetEdge) -> bool:
    """Whether an edge of a sheet makes the width of a lap."""
    along = edge in _ALONG
    if lap.across is not along:
        return False
    own = lap.second if edge in ("outbye", "left") else lap.first
    return own is not None and not own.old and own.number == number


def _within(sheet: SheetSeen, edge: SheetEdge, at_m: Decimal, rock: Box) -> Decimal:
    """Keep an edge on its own side of the sheet, and on the rock of the round."""
    if edge == "outbye":
        return max(rock.from_m, min(at_m, sheet.to_m - SMALLEST_M))
    if edge == "inbye":
        return min(rock.to_m, max(at_m, sheet.from_m + SMALLEST_M))
    if edge == "left":
        return max(rock.left_s_m, min(at_m, sheet.right_s_m - SMALLEST_M))
    return min(rock.right_s_m, max(at_m, sheet.left_s_m + SMALLEST_M))
