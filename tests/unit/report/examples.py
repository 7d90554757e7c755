"""Rounds of the invented Wrenfall mine, seen and judged by hand, for sheets and pictures."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from pathlib import Path
from typing import Any

import assets
from fieldapp.assess import assess
from fieldapp.report.round_sheet.whole import RoundSheet
from fieldapp.report.words.lengths import FEET, assessment_in
from fieldapp.work.sign import STATES
from schemas.bodies.heading import Heading
from schemas.bodies.round import (
    Barring,
    BolterCheck,
    BoltSeen,
    CountedRow,
    FaceReading,
    FaceSeen,
    GroundSeen,
    LapSeen,
    LengthReading,
    OldRow,
    Round,
    RowSeen,
)
from schemas.bodies.sign_off import SignOff
from schemas.bundle import Bundle
from schemas.findings import Assessment, Finding, Place, Verdict
from schemas.standard import Standard

AT = datetime(2026, 3, 3, 3, 42, tzinfo=UTC)
ZONE = timezone(timedelta(hours=3))
ROUND_ID = "019c9f3a-52c4-7d10-9f4e-3b0a77c1e2d5"
HASH = "4f2a91bc77e01d3c" * 4
NOT_SEEN = ("bond", "hidden length", "grout", "ground behind mesh")

STANDARD = Standard.model_validate_json(
    (Path(assets.__file__).parent / "demo" / "standard.json").read_bytes()
)
HEADING = Heading(
    name="Wrenfall Decline",
    level="4180",
    support_class="D1",
    face_m=Decimal("1387.4"),
    last_row_m=Decimal("1386.40"),
    demo=True,
)


def tape(metres: str) -> LengthReading:
    return LengthReading(value_m=Decimal(metres), method="tape")


def counted(minute: int) -> CountedRow:
    return CountedRow(plates=9, at=AT.replace(minute=minute))


MISSING = BoltSeen(position=7, state="missing")
LOOSE = BoltSeen(position=4, state="present", plate="loose", plate_gap="> 20 mm")

SEEN = Round(
    heading="019c9f3a-0000-7000-8000-000000000001",
    number=214,
    support_class="D1",
    standard="5" * 64,
    joint_m=Decimal("1386.40"),
    rows_planned=3,
    started_at=AT.replace(hour=1),
    ground=GroundSeen(condition="as expected"),
    barring=Barring(before_by="crew B", before_when="01:50", after_bolting=True),
    bolter=BolterCheck(
        done=True,
        crew="B",
        blocked_holes=0,
        batches=("RB-2291", "RS-118"),
        bolt_type="RB24",
        basis="pack label",
        bolting_finished_at=AT.replace(hour=3, minute=5),
    ),
    face=FaceSeen(scaled_and_supported=True, misfires_and_butts="none found"),
    old_rows=(
        OldRow(chainage_m=Decimal("1385.50"), confirmed=counted(20)),
        OldRow(chainage_m=Decimal("1386.40"), confirmed=counted(21)),
    ),
    rows=(
        RowSeen(number=1, ahead_of_row_before=tape("0.92"), counted=counted(24), bolts=(LOOSE,)),
        RowSeen(number=2, ahead_of_row_before=tape("0.88"), counted=counted(27), bolts=(MISSING,)),
        RowSeen(number=3),
    ),
    laps=(LapSeen(number=1, openings=2, least_mm=Decimal(210), held=True),),
    face_readings=(
        FaceReading(where="left", reading=tape("0.72")),
        FaceReading(where="middle", reading=tape("0.81")),
        FaceReading(where="right", reading=tape("0.64")),
    ),
)

BUNDLE = Bundle(heading=HEADING, standard=STANDARD, round=SEEN, as_at=AT)


def finding(check: str, title: str, verdict: Verdict, **more: object) -> Finding:
    fields: dict[str, object] = {
        "check": check,
        "title": title,
        "verdict": verdict,
        "holds": verdict,
        "measured": None,
        "uncertainty": None,
        "limit": None,
        "unit": "",
        "because": "S-2, 5.2",
        "how": "counted, row by row",
        "basis": "seen",
    }
    return Finding.model_validate(fields | more)


GAP = finding(
    "largest_gap",
    "Largest gap",
    Verdict.NO_ENTRY,
    measured="2.36",
    uncertainty="0.07",
    limit="at most 2.07",
    unit="m",
    because="S-2, 5.4",
    places=(
        Place(
            chainage_m=Decimal("1388.12"),
            s_m=Decimal("2.49"),
            row=2,
            zone="right shoulder",
            diameter_m=Decimal("2.36"),
            words="row 2, 2.5 m right of the crown",
        ),
    ),
    fix=("add a bolt, row 2, 2.5 m right of the crown",),
)
LAP = finding(
    "mesh_lap",
    "Mesh lap, least",
    Verdict.REWORK,
    measured="210",
    limit="at least 300",
    unit="mm",
    because="S-2, 6.2",
    places=(Place(words="lap 1, at the joint"),),
    fix=("put a strip over lap 1 and plate it along the whole lap",),
)
PLATES = finding(
    "plates_seated",
    "Plates seated",
    Verdict.REWORK,
    measured="17 of 18",
    limit="18 of 18",
    because="S-2, 5.11",
    places=(Place(row=1, position=4, words="row 1, bolt 4, 1.2 m left of the crown"),),
    fix=("seat the plate, row 1, 1.2 m left of the crown",),
)
ROW_3 = finding(
    "bolts_present",
    "Bolts present, row 3",
    Verdict.NOT_LOOKED_AT,
    holds=Verdict.NO_ENTRY,
    limit="9 of 9",
    places=(Place(row=3, words="row 3"),),
)
FACE = finding(
    "last_row_to_face",
    "Last row to face",
    Verdict.MEASURE_AGAIN,
    holds=Verdict.REWORK,
    measured="0.99",
    uncertainty="0.03",
    limit="at most 1.00",
    unit="m",
    because="S-2, 7.1",
    places=(Place(words="middle of the face"),),
)
PAINT = finding(
    "last_row_marked",
    "Last row marked",
    Verdict.FIX_THIS_SHIFT,
    measured="no",
    limit="painted or signed",
    because="S-2, 7.2",
    fix=("paint the last row or hang the sign",),
)
ACCEPTED = tuple(
    finding(check, title, Verdict.ACCEPT, measured=value, limit=bound, unit=unit)
    for check, title, value, bound, unit in (
        ("ground_condition", "Ground condition", "as expected", "as expected", ""),
        ("barring_down", "Barred down", "before and after", "before and after", ""),
        ("face_made_safe", "Face scaled and supported", "yes", "yes", ""),
        ("misfires_and_butts", "Misfires and butts", "none found", "none", ""),
        ("bolter_check", "Bolter's own check", "done", "done", ""),
        ("old_rows", "Two old rows", "2 of 2 confirmed", "2 of 2", ""),
        ("bolt_spacing", "Bolt spacing", "1.31", "at most 1.40", "m"),
        ("row_spacing", "Row spacing", "0.92", "at most 1.00", "m"),
        ("lowest_bolt", "Lowest bolt", "1.52", "at most 1.60", "m"),
        ("density", "Density", "0.82", "at least 0.70", "per m²"),
        ("bolt_angle", "Bolt angle", "9", "at most 15", "°"),
        ("mesh_bagging", "Bagged mesh", "none", "none", ""),
    )
)


def judged(*findings: Finding, headline: str = "No entry, 1 not looked at") -> Assessment:
    worst_first = sorted(findings, key=lambda one: -one.verdict.gravity)
    return Assessment(
        method_version=1,
        as_at=AT,
        heading=SEEN.heading,
        round=ROUND_ID,
        standard=SEEN.standard,
        support_class="D1",
        findings=tuple(worst_first),
        headline=headline,
        rows_complete_to_m=None,
        cured_at=None,
        fix_list=tuple(job for one in worst_first for job in one.fix),
        not_seen=NOT_SEEN,
    )


JUDGED = judged(GAP, LAP, PLATES, ROW_3, FACE, PAINT, *ACCEPTED)
MEETS = judged(*ACCEPTED, headline="accept")

SIGN_OFF = SignOff(
    heading=SEEN.heading,
    round=ROUND_ID,
    round_revision="a" * 64,
    standard=SEEN.standard,
    judged_at=JUDGED.as_at,
    assessment=HASH,
    decision="barricaded",
    role="shift supervisor",
    says="does not meet S-2 revision 5: No entry, 1 not looked at; not seen: bond",
    states=STATES,
    entry_line_m=Decimal("1386.40"),
    public_key="b" * 64,
    signature="c" * 128,
)

SHEET = RoundSheet(
    mine="Wrenfall mine",
    bundle=BUNDLE,
    assessment=JUDGED,
    assessment_sha256=HASH,
    round_id=ROUND_ID,
    round_revision="a" * 64,
    recorded_by="A. Supervisor",
    recorded_at=AT,
    tablet="77c1e2d5",
    printed_at=AT + timedelta(minutes=9),
    zone=ZONE,
    demo=False,
    sign_off=SIGN_OFF,
    signed_by="A. Supervisor",
    signed_at=AT + timedelta(minutes=5),
)
UNSIGNED = replace(SHEET, sign_off=None, signed_by=None, signed_at=None)

LONG_NAME = "Wrenfall Decline, conveyor drive north-east extens. stage two"
_IN_TURN = (Verdict.NO_ENTRY, Verdict.REWORK, Verdict.NOT_LOOKED_AT, Verdict.MEASURE_AGAIN)


def many(count: int) -> tuple[Finding, ...]:
    """Findings of every grave kind, with long names and a job each."""
    return tuple(
        finding(
            "largest_gap",
            f"Largest gap between plated bolts {number}",
            _IN_TURN[number % len(_IN_TURN)],
            measured=f"2.{number:03}",
            uncertainty="0.070",
            limit="at most 2.07",
            unit="m",
            places=(Place(words=f"row {number}, 2.5 m right of the crown"),),
            fix=(f"add a bolt in row {number}, 2.5 m right of the crown, and seat its plate",),
        )
        for number in range(count)
    )


def crowded(count: int) -> RoundSheet:
    """The sheet of a heading with a long name and so many findings that are not accepted."""
    heading = HEADING.model_copy(update={"name": LONG_NAME[:60]})
    bundle = BUNDLE.model_copy(update={"heading": heading})
    return replace(SHEET, bundle=bundle, assessment=judged(*many(count), *ACCEPTED))


def in_feet(sheet: RoundSheet) -> RoundSheet:
    """The same sheet as a mine prints it that reads feet and inches."""
    return replace(sheet, units=FEET, assessment=assessment_in(sheet.assessment, FEET))


def judged_sheet(bundle: Bundle, **changes: Any) -> RoundSheet:
    """The sheet of a round as the checks judge it."""
    return replace(SHEET, bundle=bundle, assessment=assess(bundle), **changes)
