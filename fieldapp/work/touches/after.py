"""Touches on the mesh, shotcrete, torque and face, and on the round as a whole."""

from typing import Literal

from pydantic import AwareDatetime, Field

from fieldapp.work.touches.touch import (
    Touch,
    with_fields,
    with_lap,
    with_row,
)
from schemas.bodies.round import (
    BagSeen,
    FaceNearer,
    FaceReading,
    Hasty,
    HoleSeen,
    LengthReading,
    Method,
    ProfileSeen,
    Round,
    TorqueSeen,
)
from schemas.bodies.second_domain import SecondDomain
from schemas.numbers import Megapascals, Millimetres, NewtonMetres


class LapRead(Touch):
    """The least width of a lap, in openings as counted or in millimetres as taped."""

    what: Literal["lap"] = "lap"
    lap: int = Field(ge=1, le=60)
    openings: int | None = Field(default=None, ge=0, le=40)
    least_mm: Millimetres | None = None
    method: Method = "tape"
    again: bool = False
    doubt_mm: Millimetres | None = None

    def onto(self, seen: Round) -> Round:
        return with_lap(
            seen,
            self.lap,
            openings=self.openings,
            least_mm=self.least_mm,
            method=self.method,
            again=self.again,
            doubt_mm=self.doubt_mm,
        )


class LapHeld(Touch):
    """Whether a plate bears on both sheets along the whole lap, and where not."""

    what: Literal["lap held"] = "lap held"
    lap: int = Field(ge=1, le=60)
    held: bool
    where: str | None = None

    def onto(self, seen: Round) -> Round:
        return with_lap(seen, self.lap, held=self.held, not_held_where=self.where)


class MeshToFace(Touch):
    """From the last edge of mesh held by plates to the face."""

    what: Literal["mesh to face"] = "mesh to face"
    reading: LengthReading

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, mesh=with_fields(seen.mesh, to_face=self.reading))


class MeshAboveFloor(Touch):
    """Lower edge of the mesh above the floor, on the wall where it is higher."""

    what: Literal["mesh above floor"] = "mesh above floor"
    reading: LengthReading

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, mesh=with_fields(seen.mesh, above_floor=self.reading))


class MeshWhole(Touch):
    """The mesh was looked at for holes and bagging: there is none but those that are marked."""

    what: Literal["mesh whole"] = "mesh whole"

    def onto(self, seen: Round) -> Round:
        no_holes, no_bagging = not seen.mesh.holes, not seen.mesh.bags
        looked = with_fields(seen.mesh, no_holes=no_holes, no_bagging=no_bagging)
        return with_fields(seen, mesh=looked)


class HoleFound(Touch):
    """A hole in the mesh."""

    what: Literal["hole"] = "hole"
    hole: HoleSeen

    def onto(self, seen: Round) -> Round:
        holes = (*seen.mesh.holes, self.hole)
        return with_fields(seen, mesh=with_fields(seen.mesh, no_holes=False, holes=holes))


class BagFound(Touch):
    """Broken rock hanging in the mesh."""

    what: Literal["bag"] = "bag"
    bag: BagSeen

    def onto(self, seen: Round) -> Round:
        bags = (*seen.mesh.bags, self.bag)
        return with_fields(seen, mesh=with_fields(seen.mesh, no_bagging=False, bags=bags))


class ShotcreteSprayed(Touch):
    """When the shotcrete of this round was sprayed."""

    what: Literal["sprayed"] = "sprayed"
    sprayed_at: AwareDatetime

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, shotcrete=with_fields(seen.shotcrete, sprayed_at=self.sprayed_at))


class ThicknessRead(Touch):
    """One probe of the shotcrete's thickness."""

    what: Literal["thickness"] = "thickness"
    thickness_mm: Millimetres

    def onto(self, seen: Round) -> Round:
        probes = (*seen.shotcrete.thickness_mm, self.thickness_mm)
        return with_fields(seen, shotcrete=with_fields(seen.shotcrete, thickness_mm=probes))


class StrengthRead(Touch):
    """The early strength of the shotcrete, tested."""

    what: Literal["strength"] = "strength"
    strength_mpa: Megapascals

    def onto(self, seen: Round) -> Round:
        return with_fields(
            seen, shotcrete=with_fields(seen.shotcrete, strength_mpa=self.strength_mpa)
        )


class TorqueRead(Touch):
    """The torque of one bolt."""

    what: Literal["torque"] = "torque"
    bolt: int = Field(ge=1, le=3_600)
    row: int | None = Field(default=None, ge=1, le=60)
    position: int | None = Field(default=None, ge=1, le=60)
    torque_nm: NewtonMetres

    def onto(self, seen: Round) -> Round:
        again = any(read.bolt == self.bolt and not read.gone for read in seen.torques)
        read = TorqueSeen(
            bolt=self.bolt,
            row=self.row,
            position=self.position,
            torque_nm=self.torque_nm,
            again=again,
        )
        return with_fields(seen, torques=(*seen.torques, read))


class FaceRead(Touch):
    """From the last row to the face, at one of three places."""

    what: Literal["to the face"] = "to the face"
    face: FaceReading

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, face_readings=(*seen.face_readings, self.face))


class FaceNearerTold(Touch):
    """Why the face is nearer than it was known to be: for this very reading."""

    what: Literal["face nearer"] = "face nearer"
    nearer: FaceNearer

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, face_nearer=self.nearer)


class LastRowMarked(Touch):
    """Whether the last row is painted or signed."""

    what: Literal["last row marked"] = "last row marked"
    marked: bool

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, last_row_marked=self.marked)


class RowInbyeLooked(Touch):
    """Whether the old row that stays inbye of new support is whole, its plates seated."""

    what: Literal["row inbye"] = "row inbye"
    sound: bool

    def onto(self, seen: Round) -> Round:
        if seen.over is None:
            return seen
        return with_fields(seen, over=with_fields(seen.over, row_inbye_sound=self.sound))


class GroundChanges(Touch):
    """The ground changes within the round: rows past a chainage are put up by another class.

    Bolts are counted anew, so that torques are read anew.
    """

    what: Literal["ground changes"] = "ground changes"
    second: SecondDomain

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, second_domain=self.second, torques=())


class ProfileMeasured(Touch):
    """The drive is not as designed: measured width and rise."""

    what: Literal["profile"] = "profile"
    profile: ProfileSeen

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, profile=self.profile)


class HastyAnswered(Touch):
    """What was said when the app asked about rows answered too fast."""

    what: Literal["hasty"] = "hasty"
    rows: tuple[int, ...]
    answer: str

    def onto(self, seen: Round) -> Round:
        said = Hasty(rows=self.rows, at=self.at, answer=self.answer)
        looked_at = seen if self.answer != "look again" else self._uncounted(seen)
        return with_fields(looked_at, hasty=(*seen.hasty, said))

    def _uncounted(self, seen: Round) -> Round:
        for row in seen.rows:
            if row.number in self.rows:
                seen = with_row(seen, row.number, counted=None)
        return seen


class NoteAdded(Touch):
    """A note, picked from phrases or typed."""

    what: Literal["note"] = "note"
    text: str = Field(min_length=1, max_length=400)

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, notes=(*seen.notes, self.text))
