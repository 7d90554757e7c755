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
    RowCounted,
    RowsPlanned,
    SpacingRead,
    SpotAnswered,
)
from fieldapp.work.touches.touch import Touch
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
    "ButtsAnswered",
    "CrewNamed",
    "FaceAnswered",
    "FaceNearerTold",
    "FaceRead",
    "GroundAnswered",
    "HastyAnswered",
    "HoleFound",
    "InstallerNamed",
    "InstallersAllNamed",
    "LapHeld",
    "LapRead",
    "LastRowMarked",
    "MeshAboveFloor",
    "MeshToFace",
    "MeshWhole",
    "NoteAdded",
    "OldBoltMarked",
    "OldRowConfirmed",
    "PersonCalled",
    "ProfileMeasured",
    "RowAhead",
    "RowCounted",
    "RowsPlanned",
    "ShotcreteSprayed",
    "SpacingRead",
    "SpotAnswered",
    "StrengthRead",
    "ThicknessRead",
    "TorqueRead",
    "Touch",
    "Undone",
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
    | ShotcreteSprayed
    | ThicknessRead
    | StrengthRead
    | TorqueRead
    | FaceRead
    | FaceNearerTold
    | LastRowMarked
    | ProfileMeasured
    | HastyAnswered
    | NoteAdded,
    Field(discriminator="what"),
]

_ADAPTER: Final[TypeAdapter[AnyTouch]] = TypeAdapter(AnyTouch)


def write_touch(touch: Touch) -> bytes:
    """Write a touch as one line."""
    return touch.model_dump_json(exclude_none=True).encode()


def read_touch(line: bytes) -> AnyTouch:
    """Read a touch as it was written by this version or an older one."""
    return _ADAPTER.validate_json(line)
