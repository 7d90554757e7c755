"""One bolt that is not as standard: what can be said of it, as the touches that say it."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch, BoltMarked, OldBoltMarked
from fieldapp.work.touches.touch import row_of
from schemas.bodies.round import BoltSeen, HoleSeen
from schemas.numbers import STEP_M, rounded

BESIDE_M = (Decimal("-0.3"), Decimal("-0.2"), Decimal("0.2"), Decimal("0.3"))
"""Where a bolt stands beside the hole that was given up."""


@dataclass(frozen=True)
class BoltPlace:
    """A bolt on the map: row 1, 2, … of the round, or an old row by its index."""

    row: int | None
    old_index: int | None
    position: int | None
    s_m: Decimal

    @property
    def words(self) -> str:
        """Where it is, as it is said."""
        where = f"row {self.row}" if self.row is not None else "old row"
        if self.position is None:
            return f"{where}, extra bolt"
        return f"{where}, bolt {self.position} from the left"


@dataclass(frozen=True)
class Statement:
    """One thing to say of a bolt, on a key."""

    label: str
    bolt: BoltSeen


def statements(place: BoltPlace) -> tuple[Statement, ...]:
    """Give everything that can be said of a bolt at its position, the commonest first."""

    def bolt(**fields: object) -> BoltSeen:
        return BoltSeen.model_validate({"position": place.position, **fields})

    return (
        Statement("Plate loose", bolt(state="present", plate="loose")),
        Statement("Plate missing", bolt(state="present", plate="missing")),
        Statement("Bolt missing", bolt(state="missing")),
        Statement("Bolt broken", bolt(state="broken")),
        Statement("Hole given up", bolt(state="blocked hole")),
        Statement("Angle too flat", bolt(state="present", plate="seated", angle_over_limit=True)),
        Statement("Wrong bolt", bolt(state="present", plate="seated", bolt_type="other")),
        Statement("Looked at: seated", bolt(state="present", plate="seated")),
    )


def beside(place: BoltPlace) -> tuple[Statement, ...]:
    """Give the statements that a bolt was put in beside a hole that was given up."""
    return tuple(
        Statement(
            f"{abs(off)} m {'left' if off < 0 else 'right'}",
            BoltSeen(
                position=place.position,
                s_m=place.s_m + off,
                method="tape",
                state="present",
                plate="seated",
                beside=True,
            ),
        )
        for off in BESIDE_M
    )


GRADES = (1, 2, 3, 4, 5)


def corroded(place: BoltPlace) -> tuple[Statement, ...]:
    """Give the grades of rust that can be seen on an old bolt, the mildest first."""
    return tuple(
        Statement(
            f"Grade {grade}",
            BoltSeen(
                position=place.position, state="present", plate="seated", corrosion_grade=grade
            ),
        )
        for grade in GRADES
    )


def taped(known: BoltSeen | None, place: BoltPlace, s_m: Decimal) -> BoltSeen:
    """Give a bolt whose place along the rock was taped, otherwise as it was marked before."""
    seen = known or BoltSeen(position=place.position, state="present", plate="seated")
    return seen.model_copy(update={"s_m": rounded(s_m, STEP_M), "method": "tape"})


def marked(work: RoundWork, place: BoltPlace) -> BoltSeen | None:
    """Give what was said of this bolt before, if anything."""
    if place.old_index is not None:
        bolts = work.seen.old_rows[place.old_index].bolts
    else:
        bolts = row_of(work.seen, place.row or 1).bolts
    return next((bolt for bolt in bolts if bolt.position == place.position), None)


def extra(s_m: Decimal) -> BoltSeen:
    """Give a bolt that stands for no demanded position."""
    return BoltSeen(position=None, s_m=s_m, method="tape", state="present", plate="seated")


def marking(place: BoltPlace, asker: Asker) -> Callable[[BoltSeen], AnyTouch]:
    """Give what makes a touch out of a statement about this bolt."""

    def touch(bolt: BoltSeen) -> AnyTouch:
        if place.old_index is not None:
            return OldBoltMarked(at=asker.at, by=asker.by, index=place.old_index, bolt=bolt)
        return BoltMarked(at=asker.at, by=asker.by, row=place.row or 1, bolt=bolt)

    return touch


def hole_at(work: RoundWork, chainage_m: Decimal, s_m: Decimal, openings: int) -> HoleSeen:
    """Give a hole in the mesh, its height above the floor by the profile of the row it is by."""
    height_m = _height_m(work, chainage_m, s_m)
    return HoleSeen(chainage_m=chainage_m, s_m=s_m, openings=openings, above_floor_m=height_m)


def _height_m(work: RoundWork, chainage_m: Decimal, s_m: Decimal) -> Decimal:
    profile = work.row_at(chainage_m).profile
    left, right = profile.floor_s_m
    _, height = profile.at(min(max(float(s_m), left), right))
    return rounded(max(height, 0.0), STEP_M)
