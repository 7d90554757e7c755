"""The mine's support standard: what is demanded, why, and what a breach means.

It has revisions with effective dates. Every number in it is the mine's: this file only says
which numbers there must be. What one part demands of another (a lap no larger than the
sheet, gap limits that fit the pattern, …) is judged by `fieldapp.assess.standard_check`.
"""

from typing import Literal, Self

from pydantic import AwareDatetime, Field, model_validator

from schemas.bolt_test_rules import BoltTestRule, CoreRule, TorqueTestRule
from schemas.corrosion_rules import CorrosionRule
from schemas.identifiers import PublicKey, Signature
from schemas.intersection_rules import IntersectionRule
from schemas.limits import (
    AtLeastMillimetres,
    AtLeastPerSquareMetre,
    AtMostDegrees,
    AtMostMetres,
    BaggingLimit,
    CoverLimit,
    Curing,
    Demanded,
    GapLimit,
    GroundLimit,
    HoleLimit,
    LapLimit,
    LoadLimit,
    PanelLimit,
    PlateLimit,
    ReachLimit,
    TorqueLimit,
)
from schemas.load_rules import RockMass, SupportDemand
from schemas.numbers import (
    Degrees,
    Factor,
    Hours,
    Kilojoules,
    Kilonewtons,
    KilonewtonsPerMetre,
    Megapascals,
    Metres,
    Millimetres,
    NewtonMetres,
    SquareMillimetres,
)
from schemas.part import Part
from schemas.prices import Prices
from schemas.rehab_rules import (
    Exposure,
    GrowthRule,
    MatrixCell,
    RehabPriority,
    RehabRule,
    Severity,
)
from schemas.walk_rules import WalkRule

Zone = Literal["left wall", "left shoulder", "back", "right shoulder", "right wall"]
EventWhat = Literal[
    "fired", "seismic", "nearby blast", "fall of ground", "vehicle strike", "water change"
]
Code = str


class Profile(Part):
    """The designed shape of the drive and how far down the walls it is supported."""

    shape: Literal["arch", "flat"]
    width_m: Metres = Field(gt=0)
    wall_height_m: Metres = Field(gt=0)
    """Floor to springline; floor to back where the back is flat."""
    rise_m: Metres
    """Springline to crown; 0 where the back is flat."""
    supported_from_m: Metres
    """Height above the floor of the lower ends of the supported line, both walls."""
    back_half_m: Metres
    """Distance along the rock from the crown to where the back becomes a shoulder."""


class Pattern(Part):
    """Where the bolts belong."""

    kind: Literal["square", "staggered"]
    bolt_spacing_m: Metres = Field(gt=0)
    bolt_spacing_tolerance_m: Metres
    row_spacing_m: Metres = Field(gt=0)
    row_spacing_tolerance_m: Metres
    bolts_per_row: int = Field(ge=2, le=60)
    """The count on the sheet, in a full row."""


class BoltType(Part):
    """One kind of bolt, where it belongs and what it can carry."""

    code: Code
    name: str
    kind: Literal["grouted bar", "friction bolt", "point-anchored bolt", "cable"]
    zones: tuple[Zone, ...] = Field(min_length=1)
    length_m: Metres = Field(gt=0)
    plate_mm: Millimetres
    thread_area_mm2: SquareMillimetres
    steel_mpa: Megapascals
    bond_kn_per_m: KilonewtonsPerMetre
    plate_kn: Kilonewtons
    anchored_with_loose_plate: bool
    """True for a fully grouted bar: it holds rock although its plate doesn't."""
    energy_kj: Kilojoules | None = None
    """What it takes up before it breaks; None: nobody said, it counts for nothing there."""
    yields: bool = False
    """Made to give way under load. Stiff bolts break before yielding ones take up theirs."""
    curing: Curing | None = None
    hole_mm: Millimetres | None = None
    """As the hole is drilled."""
    bar_mm: Millimetres | None = None
    """Across the bar when it is new."""
    tube_wall_mm: Millimetres | None = None
    """Wall of a tube when it is new."""
    capsule_mm: Millimetres | None = None
    """Across a capsule of resin. Hole, bar and capsule together give the resin of a bolt."""
    capsule_length_m: Metres | None = None
    resin_m: Metres | None = None
    """How much of the hole resin fills; None: the bolt's length."""


class Mesh(Part):
    """The surface support between the bolts."""

    kind: Literal["sheets of welded mesh", "rolls of chain-link mesh"]
    pitch_mm: Millimetres = Field(gt=0)
    """Wire centres. The clear opening is the pitch less the wire."""
    wire_mm: Millimetres = Field(gt=0)
    along_drive_m: Metres = Field(gt=0)
    """Size of one sheet, or width of one strip of the roll, along the drive."""
    across_m: Metres = Field(gt=0)
    beyond_plates_at_most_mm: Millimetres
    """How far mesh may stand out past its outermost plates and still count."""
    strip_tail_m: Metres | None = None
    """How far a strip hangs past the supported line, at each of its ends."""
    strip_width_step_m: Metres | None = None
    """In steps of what a strip's width is ordered; None: in any."""
    roll_length_m: Metres | None = None
    strips_per_pack: int | None = Field(default=None, ge=1, le=60)
    pack_length_m: Metres | None = None
    """Of all strips of a pack together."""
    panel_kn: Kilonewtons | None = Field(default=None, gt=0)
    """What one panel of it carried; None: nobody stated it."""
    panel_rig: str | None = Field(default=None, min_length=3)
    """How that was tested. Figures from different rigs are never compared."""
    panel_because: str | None = Field(default=None, min_length=3)


class Shotcrete(Part):
    """Sprayed concrete."""

    thickness_mm: Millimetres = Field(gt=0)
    strength_mpa: Megapascals = Field(gt=0)
    curing: Curing


class Limits(Part):
    """One limit a check, under the check's own name. None: this class does not demand it."""

    ground_condition: GroundLimit
    barring_down: Demanded
    face_made_safe: Demanded
    misfires_and_butts: Demanded
    bolter_check: Demanded
    old_rows: Demanded
    bolts_present: Demanded
    neighbouring_bolts: Demanded
    largest_gap: GapLimit
    bolt_spacing: AtMostMetres
    row_spacing: AtMostMetres
    lowest_bolt: AtMostMetres
    density: AtLeastPerSquareMetre
    load: LoadLimit | None = None
    bolt_type: Demanded
    bolt_angle: AtMostDegrees
    plates_seated: PlateLimit
    torque: TorqueLimit | None = None
    curing: Demanded | None = None
    mesh_lap: LapLimit | None = None
    lap_held: Demanded | None = None
    mesh_reach: ReachLimit | None = None
    mesh_holes: HoleLimit | None = None
    mesh_bagging: BaggingLimit | None = None
    mesh_cover: CoverLimit | None = None
    mesh_panel: PanelLimit | None = None
    shotcrete_thickness: AtLeastMillimetres | None = None
    last_row_to_face: AtMostMetres
    last_row_marked: Demanded


class EntryRules(Part):
    """Where people may stand once a round is accepted."""

    stand_off_m: Metres
    """Kept from the entry line by anyone who is not working at the face."""
    charging_needs: str
    """What charging the face needs beyond an accepted round."""
    because: str = Field(min_length=3)


class SupportClass(Part):
    """One drive type and ground domain: profile, pattern, bolts, mesh, limits."""

    code: Code
    title: str
    used_for: str
    profile: Profile
    pattern: Pattern
    bolts: tuple[BoltType, ...] = Field(min_length=1)
    mesh: Mesh | None = None
    shotcrete: Shotcrete | None = None
    rock: RockMass | None = None
    demand: SupportDemand | None = None
    entry: EntryRules
    limits: Limits
    intersection: IntersectionRule | None = None
    """None: an intersection of this class is judged by nothing but its cables."""


class Measuring(Part):
    """The standard uncertainty of one reading, by the way it was taken (JCGM 100:2008, 4)."""

    tape_m: Metres
    staff_m: Metres
    laser_m: Metres
    paced_m: Metres
    photo_m: Metres
    assumed_m: Metres
    """Of a position taken "as standard", along the row and along the drive alike."""
    eye_share: Factor | None = None
    """Of what was judged by eye, as a share of it; None: nothing is decided by eye."""
    torque_nm: NewtonMetres
    angle_deg: Degrees
    because: str = Field(min_length=3)


class EventRule(Part):
    """What an event withdraws: entry within the radius, until the time *and* an inspection."""

    what: EventWhat
    radius_m: Metres
    exclusion_h: Hours
    because: str = Field(min_length=3)


class DeviationRule(Part):
    """How long a deviation that the engineer grants may stand."""

    at_most_h: Hours
    because: str = Field(min_length=3)


class Standard(Part):
    """One revision of the mine's support standard."""

    code: Code = Field(min_length=1, max_length=20)
    revision: int = Field(ge=1, le=9_999)
    title: str
    mine: str = Field(min_length=1)
    demo: bool = False
    """True: worked example. It can't sign a heading of a real mine."""
    approved_by: str = Field(min_length=1)
    effective_from: AwareDatetime
    measuring: Measuring
    classes: tuple[SupportClass, ...] = Field(min_length=1, max_length=60)
    events: tuple[EventRule, ...]
    deviations: DeviationRule
    corrosion: CorrosionRule
    severities: tuple[Severity, ...] = ()
    exposures: tuple[Exposure, ...] = ()
    priorities: tuple[RehabPriority, ...] = ()
    rehab_matrix: tuple[MatrixCell, ...] = Field(default=(), max_length=400)
    """Severity and exposure give the priority; empty: an engineer decides each time."""
    growth: GrowthRule | None = None
    rehab: RehabRule | None = None
    walk: WalkRule | None = None
    bolt_tests: tuple[BoltTestRule, ...] = ()
    torque_tests: tuple[TorqueTestRule, ...] = Field(default=(), max_length=60)
    cores: CoreRule | None = None
    prices: Prices | None = None
    public_key: PublicKey | None = None
    signature: Signature | None = None
    """The engineer's, over the whole entry; None: adopted from a file without a sign code."""

    @property
    def name(self) -> str:
        """As people say it: "S-2 revision 5"."""
        return f"{self.code} revision {self.revision}"

    def support_class(self, code: Code) -> SupportClass | None:
        """Give the support class of that code, or None."""
        return next((known for known in self.classes if known.code == code), None)

    @model_validator(mode="after")
    def _codes_are_used_once(self) -> Self:
        codes = [known.code for known in self.classes]
        if len(set(codes)) != len(codes):
            raise ValueError("two support classes share one code")
        return self
