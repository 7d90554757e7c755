"""One touch of a person on a round: small, on disk before the screen says so, repeatable.

A draft is the list of its touches. Each touch knows what it does to the round (`onto`); the
state of a draft is their fold (`fieldapp.work.round`). A new touch: one class in the module of
its subject, one name in `AnyTouch`.
"""

from typing import Annotated, Final, Literal

from pydantic import Field, TypeAdapter

from fieldapp.work.touches.after import (
    BagFound,
    FaceNearerTold,
    FaceRead,
    GroundChanges,
    HastyAnswered,
    HoleFound,
    LapHeld,
    LapRead,
    LastRowMarked,
    MeshAboveFloor,
    MeshToFace,
    MeshWhole,
    NoteAdded,
    ProfileMeasured,
    RowInbyeLooked,
    ShotcreteSprayed,
    StrengthRead,
    ThicknessRead,
    TorqueRead,
)
from fieldapp.work.touches.before import (
    BarredAfter,
    BarredBefore,
    BlockedHolesCounted,
    BoltedByName,
    BolterAnswered,
    BoltingFinished,
    BoltsNamed,
    ButtsAnswered,
    CrewNamed,
    FaceAnswered,
    GroundAnswered,
    InstallerNamed,
    InstallersAllNamed,
    PersonCalled,
)
from fieldapp.work.touches.rows import (
    BoltMarked,
    OldBoltMarked,
    OldRowConfirmed,
    RowAhead,
    RowAsBroken,
    RowCounted,
    RowsPlanned,
    SpacingRead,
    SpotAnswered,
)
from fieldapp.work.touches.sheets import (
    SheetEdgeRead,
    SheetLapHeld,
    SheetLapRead,
    SheetPlaced,
    SheetTakenAway,
)
from fieldapp.work.touches.touch import Touch
from fieldapp.work.touches.work import (
    BoltsOfTypeUsed,
    CapsulesUsed,
    CrewCounted,
    Delayed,
    MeshAreaUsed,
    MeshUsed,
    MethodNamed,
    NobodyBeyond,
    NotDelayed,
    PlatesUsed,
    SupportBegun,
    SupportFinished,
    WentBeyond,
)
from schemas.bodies.round import Round

__all__ = [
    "AnyTouch",
    "BagFound",
    "BarredAfter",
    "BarredBefore",
    "BlockedHolesCounted",
    "BoltMarked",
    "BoltedByName",
    "BolterAnswered",
    "BoltingFinished",
    "BoltsNamed",
    "BoltsOfTypeUsed",
    "ButtsAnswered",
    "CapsulesUsed",
    "CrewCounted",
    "CrewNamed",
    "Delayed",
    "FaceAnswered",
    "FaceNearerTold",
    "FaceRead",
    "GroundAnswered",
    "GroundChanges",
    "HastyAnswered",
    "HoleFound",
    "InstallerNamed",
    "InstallersAllNamed",
    "LapHeld",
    "LapRead",
    "LastRowMarked",
    "MeshAboveFloor",
    "MeshAreaUsed",
    "MeshToFace",
    "MeshUsed",
    "MeshWhole",
    "MethodNamed",
    "NobodyBeyond",
    "NotDelayed",
    "NoteAdded",
    "OldBoltMarked",
    "OldRowConfirmed",
    "PersonCalled",
    "PlatesUsed",
    "ProfileMeasured",
    "RowAhead",
    "RowAsBroken",
    "RowCounted",
    "RowInbyeLooked",
    "RowsPlanned",
    "SheetEdgeRead",
    "SheetLapHeld",
    "SheetLapRead",
    "SheetPlaced",
    "SheetTakenAway",
    "ShotcreteSprayed",
    "SpacingRead",
    "SpotAnswered",
    "StrengthRead",
    "SupportBegun",
    "SupportFinished",
    "ThicknessRead",
    "TorqueRead",
    "Touch",
    "Undone",
    "WentBeyond",
    "read_touch",
    "write_touch",
]


class Undone(Touch):
    """The last touch that still stands is taken back. The touch itself is kept."""

    what: Literal["undone"] = "undone"

    def onto(self, seen: Round) -> Round:
        return seen


AnyTouch = Annotated[
    Undone
    | GroundAnswered
    | PersonCalled
    | BarredBefore
    | BarredAfter
    | FaceAnswered
    | ButtsAnswered
    | BolterAnswered
    | CrewNamed
    | BoltedByName
    | InstallerNamed
    | InstallersAllNamed
    | BlockedHolesCounted
    | BoltsNamed
    | BoltingFinished
    | OldRowConfirmed
    | OldBoltMarked
    | RowsPlanned
    | RowAhead
    | RowAsBroken
    | RowCounted
    | BoltMarked
    | SpacingRead
    | SpotAnswered
    | LapRead
    | LapHeld
    | MeshToFace
    | MeshAboveFloor
    | MeshWhole
    | HoleFound
    | BagFound
    | SheetPlaced
    | SheetEdgeRead
    | SheetLapRead
    | SheetLapHeld
    | SheetTakenAway
    | ShotcreteSprayed
    | ThicknessRead
    | StrengthRead
    | TorqueRead
    | FaceRead
    | FaceNearerTold
    | LastRowMarked
    | ProfileMeasured
    | GroundChanges
    | RowInbyeLooked
    | HastyAnswered
    | NoteAdded
    | SupportBegun
    | SupportFinished
    | CrewCounted
    | MethodNamed
    | NotDelayed
    | Delayed
    | BoltsOfTypeUsed
    | PlatesUsed
    | MeshUsed
    | MeshAreaUsed
    | CapsulesUsed
    | NobodyBeyond
    | WentBeyond,
    Field(discriminator="what"),
]

_ADAPTER: Final[TypeAdapter[AnyTouch]] = TypeAdapter(AnyTouch)


def write_touch(touch: Touch) -> bytes:
    """Write a touch as one line."""
    return touch.model_dump_json(exclude_none=True).encode()


def read_touch(line: bytes) -> AnyTouch:
    """Read a touch as it was written by this version or an older one."""
    return _ADAPTER.validate_json(line)
