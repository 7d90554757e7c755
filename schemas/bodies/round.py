"""A supported round as it was seen: every reading with its method, nothing judged.

What nobody looked at is absent or None. Positions are numbered from the left, looking toward
the face; row 1 is nearest the joint. Limits run along the rock; what was taped straight is
stored as taped (`straight`).
"""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.in_heading import InHeading
from schemas.bodies.second_domain import SecondDomain
from schemas.bodies.work_seen import WorkSeen
from schemas.features import OVER_OLD
from schemas.numbers import (
    Chainage,
    Degrees,
    Megapascals,
    Metres,
    Millimetres,
    NewtonMetres,
    Offset,
    Tonnes,
)
from schemas.part import Part

Method = Literal["tape", "staff", "laser", "paced", "photo", "assumed"]
PlateGap = Literal["tight", "< 10 mm", "10–20 mm", "> 20 mm"]
Basis = Literal["pack label", "told by the bolter"]


class LengthReading(Part):
    """One length as it was read."""

    value_m: Metres
    method: Method
    straight: bool = False
    """Taped straight from collar to collar, not along the rock."""
    again: bool = False
    """Read once more by a better method, after a reading that straddled its limit."""
    doubt_m: Metres | None = None
    """Its own standard uncertainty, where a photo told it; the greater of it and its method's
    counts."""


class Called(Part):
    """Somebody was told, and answered."""

    who: str
    at: AwareDatetime
    answer: str = ""


class GroundSeen(Part):
    """The ground against what was expected."""

    condition: Literal["as expected", "wetter", "fault or wedge", "noise", "spalling"]
    called: Called | None = None


class Barring(Part):
    """Barring down, before the bolting and again after it."""

    before_by: str | None = None
    before_when: str | None = None
    after_bolting: bool | None = None


class BolterCheck(Part):
    """The bolter's own check of the round."""

    done: bool | None = None
    crew: str | None = None
    blocked_holes: int | None = Field(default=None, ge=0, le=200)
    batches: tuple[str, ...] | None = None
    bolt_type: str | None = None
    """Code of the bolt type used, from the standard; "other" where it is none of them."""
    bolt_length_m: Metres | None = None
    basis: Basis | None = None
    bolting_finished_at: AwareDatetime | None = None


class FaceSeen(Part):
    """The face before anybody goes near it."""

    scaled_and_supported: bool | None = None
    misfires_and_butts: Literal["none found", "found"] | None = None


class CountedRow(Part):
    """A row answered "as standard": so many plates counted, each seated and in its place."""

    plates: int = Field(ge=0, le=60)
    at: AwareDatetime


class BoltSeen(Part):
    """One bolt that was looked at by itself: an exception, or one that the app drew."""

    position: int | None = Field(default=None, ge=1, le=60)
    """The demanded position it stands for; None for a bolt that stands for none."""
    s_m: Offset | None = None
    """Where its collar is along the rock; None: at its position, assumed."""
    method: Method = "assumed"
    state: Literal["present", "missing", "broken", "blocked hole"]
    plate: Literal["seated", "loose", "missing"] | None = None
    plate_gap: PlateGap | None = None
    angle_deg: Degrees | None = None
    angle_over_limit: bool | None = None
    bolt_type: str | None = None
    length_m: Metres | None = None
    corrosion_grade: int | None = Field(default=None, ge=0, le=5)
    beside: bool = False
    """Drilled beside a hole that was given up, in its place."""


class SpacingSeen(Part):
    """The distance between two neighbouring collars of one row."""

    from_position: int = Field(ge=1, le=60)
    to_position: int = Field(ge=1, le=60)
    reading: LengthReading


class SpotCheck(Part):
    """A bolt that the app drew, and what its plate showed."""

    position: int = Field(ge=1, le=60)
    plate_gap: PlateGap | None = None


class SurveyPoint(Part):
    """A surveyed point of the rock, looking toward the face."""

    y_m: Offset
    """To the right of the centre line."""
    z_m: Metres
    """Above the floor."""


class ProfileSeen(Part):
    """The drive as it was really broken, where that differs from the design."""

    width_m: Metres = Field(gt=0)
    rise_m: Metres
    method: Method
    points: tuple[SurveyPoint, ...] = Field(default=(), max_length=200)
    """As surveyed, from the left floor over the back to the right; empty: nobody surveyed it."""


class RowSeen(Part):
    """One row of bolts."""

    number: int = Field(ge=1, le=60)
    ahead_of_row_before: LengthReading | None = None
    counted: CountedRow | None = None
    bolts: tuple[BoltSeen, ...] = Field(default=(), max_length=120)
    spacings: tuple[SpacingSeen, ...] = Field(default=(), max_length=60)
    spot_checks: tuple[SpotCheck, ...] = Field(default=(), max_length=10)
    profile: ProfileSeen | None = None
    """As broken at this row; None: as in the rest of the round."""


class OldRow(Part):
    """One of the last two rows of the round before, confirmed or not."""

    chainage_m: Chainage
    staggered: bool = False
    """True where it is an offset row of a staggered pattern."""
    confirmed: CountedRow | None = None
    bolts: tuple[BoltSeen, ...] = Field(default=(), max_length=120)


class LapSeen(Part):
    """One lap between sheets or strips, its least width, and what holds it."""

    number: int = Field(ge=1, le=60)
    openings: int | None = Field(default=None, ge=0, le=40)
    least_mm: Millimetres | None = None
    method: Method = "tape"
    again: bool = False
    doubt_mm: Millimetres | None = None
    """Its own standard uncertainty, where a photo told it."""
    held: bool | None = None
    """A plate bears on both sheets along the whole lap."""
    not_held_where: str | None = None


class SheetLap(Part):
    """One lap of a placed sheet as it was read, and what holds it."""

    with_sheet: int = Field(ge=0, le=240)
    """The sheet that it laps; 0: the old mesh at the joint."""
    openings: int | None = Field(default=None, ge=0, le=40)
    least_mm: Millimetres | None = None
    method: Method = "tape"
    again: bool = False
    held: bool | None = None
    """A plate bears on both sheets along the whole lap."""
    not_held_where: str | None = None


class SheetSeen(Part):
    """One sheet of mesh, or strip of a roll, as a rectangle on the unrolled rock.

    Each edge carries how it was read; "assumed" is where the standard puts it.
    """

    number: int = Field(ge=1, le=240)
    from_m: Chainage
    """Its outbye edge."""
    to_m: Chainage
    """Its inbye edge."""
    left_s_m: Offset
    right_s_m: Offset
    from_method: Method = "assumed"
    to_method: Method = "assumed"
    left_method: Method = "assumed"
    right_method: Method = "assumed"
    laps: tuple[SheetLap, ...] = Field(default=(), max_length=60)


class HoleSeen(Part):
    """A hole in the mesh."""

    chainage_m: Chainage
    s_m: Offset
    openings: int = Field(ge=1, le=200)
    above_floor_m: Metres


class BagSeen(Part):
    """Broken rock hanging in the mesh."""

    chainage_m: Chainage
    s_m: Offset
    depth_mm: Millimetres
    mass_t: Tonnes | None = None


class MeshSeen(Part):
    """The mesh of the round, apart from its laps."""

    to_face: LengthReading | None = None
    """From the last edge held by plates to the face."""
    above_floor: LengthReading | None = None
    """Lower edge above the floor, the higher of both walls."""
    no_holes: bool | None = None
    holes: tuple[HoleSeen, ...] = Field(default=(), max_length=100)
    no_bagging: bool | None = None
    bags: tuple[BagSeen, ...] = Field(default=(), max_length=100)


class ShotcreteSeen(Part):
    """The shotcrete of the round."""

    sprayed_at: AwareDatetime | None = None
    thickness_mm: tuple[Millimetres, ...] = Field(default=(), max_length=100)
    strength_mpa: Megapascals | None = None


class TorqueSeen(Part):
    """The torque of one bolt, numbered in the order of rows and positions."""

    bolt: int = Field(ge=1, le=3_600)
    row: int | None = Field(default=None, ge=1, le=60)
    position: int | None = Field(default=None, ge=1, le=60)
    """Where it stands; None in a record from before this was written down."""
    torque_nm: NewtonMetres
    again: bool = False
    gone: bool = False
    """That bolt was marked missing, broken or given up since: one put in its place is another."""


class FaceReading(Part):
    """From the last row to the face, read from behind the last row."""

    where: Literal["left", "middle", "right"]
    reading: LengthReading


class FaceNearer(Part):
    """Why the face was read outbye of where it was known to be: said of that reading alone."""

    known_m: Chainage
    """Where the face was known to be."""
    read_m: Chainage
    """Where it was read: the last row, and the largest reading to the face."""
    why: str = Field(min_length=1, max_length=200)


class OverOld(Part):
    """New support put up over ground that was supported before: a layer that stands alone.

    The round begins at the old row that stays outbye (its joint) and ends at the old row that
    stays inbye, where a round of an advance has its face: what is read to the face is read to
    that row. Bolts of the old layer between the two count for nothing.
    """

    what: Literal["old support"] = "old support"
    to_m: Chainage
    """Where the old row stands that stays inbye."""
    after: tuple[str, ...] = Field(default=(), max_length=50)
    """Ids of the strippings that were known when it was begun: it answers those."""
    row_inbye_sound: bool | None = None
    """Every bolt of the old row that stays inbye is there and its plate seated."""


class Hasty(Part):
    """Three rows answered in under six seconds, and what was said when asked about it."""

    rows: tuple[int, ...]
    at: AwareDatetime
    answer: str | None = None


class Round(InHeading):
    """One supported round. What is None or empty was not looked at."""

    heading: str
    """Id of the heading."""
    number: int = Field(ge=1, le=99_999)
    support_class: str
    standard: str
    """Revision hash of the standard that was shown to the person."""
    joint_m: Chainage
    """Chainage of the last old row, where this round meets the one before."""
    rows_planned: int = Field(ge=1, le=60)
    started_at: AwareDatetime
    fired_at: AwareDatetime | None = None
    face_known_m: Chainage | None = None
    """Where the face was known to be when the round was begun: surveyed, fired for, or read."""
    ground: GroundSeen | None = None
    barring: Barring = Barring()
    bolter: BolterCheck = BolterCheck()
    face: FaceSeen = FaceSeen()
    profile: ProfileSeen | None = None
    over: OverOld | None = None
    """None: it supports an advance, new ground behind the face."""
    second_domain: SecondDomain | None = None
    """None: all of it lies in one ground domain."""
    old_rows: tuple[OldRow, ...] = Field(default=(), max_length=2)
    """The last two of the round before, the nearest to the joint last."""
    rows: tuple[RowSeen, ...] = Field(default=(), max_length=60)
    laps: tuple[LapSeen, ...] = Field(default=(), max_length=60)
    sheets: tuple[SheetSeen, ...] = Field(default=(), max_length=120)
    """Empty where nobody placed any: the mesh is judged by its taped laps and its reach."""
    mesh: MeshSeen = MeshSeen()
    shotcrete: ShotcreteSeen = ShotcreteSeen()
    torques: tuple[TorqueSeen, ...] = Field(default=(), max_length=400)
    last_row_marked: bool | None = None
    face_readings: tuple[FaceReading, ...] = Field(default=(), max_length=12)
    face_nearer: FaceNearer | None = None
    hasty: tuple[Hasty, ...] = ()
    notes: tuple[str, ...] = Field(default=(), max_length=100)
    installed_by: tuple[str, ...] = ()
    """Ids of the people who installed it: they can't sign it."""
    work: WorkSeen | None = None
    """How it was done and what went into it; None: nobody said."""

    @property
    def must(self) -> tuple[str, ...]:
        """Features that whoever reads it has to know."""
        return () if self.over is None else (OVER_OLD,)

    @property
    def class_said(self) -> str:
        """Its support class; of two ground domains both, and where the second begins."""
        second = self.second_domain
        if second is None:
            return self.support_class
        return f"{self.support_class}, from {second.from_m} m {second.support_class}"

    def profile_at(self, number: int) -> ProfileSeen | None:
        """Give the profile as broken at a row: its own, or that of the round."""
        own = {row.number: row.profile for row in self.rows}
        return own.get(number) or self.profile

    @property
    def ends_at(self) -> str:
        """What its last row is read to, as people say it."""
        return "the face" if self.over is None else "the row inbye"

    @property
    def name(self) -> str:
        """As people say it. Rounds over old support are counted by themselves."""
        return named(self.number, over_old=self.over is not None)


def named(number: int, *, over_old: bool) -> str:
    """Say which round it is: "round 87", "re-support 2"."""
    return f"re-support {number}" if over_old else f"round {number}"
