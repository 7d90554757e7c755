"""A heading's facts, put together by hand: one round, one damage, one photo that is missing."""

from datetime import UTC, date, datetime
from decimal import Decimal

from fieldapp.work.reporting.facts import (
    EntryTold,
    HeadingFacts,
    HeadingMonth,
    HeadingTold,
    MonthFacts,
    MonthTold,
)
from fieldapp.work.reporting.told import (
    BoltTold,
    DamageTold,
    LapTold,
    PhotoTold,
    RoundTold,
    SheetTold,
)
from fieldapp.work.reporting.told_of_trends import TrendTold
from fieldapp.work.reporting.told_of_work import PaceTold, WorkDone
from schemas.bodies.damage import DamageExtent
from schemas.bodies.heading import SurveyedPoint
from tests.unit.report.examples import STANDARD

AT = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
ROUND = "01976f3a-52c4-7d10-9f4e-3b0a77c1e2d5"
HEADING = "01976f3a-52c4-7d10-9f4e-000000000001"


def surveyed(chainage: str, east: str, north: str, height: str) -> SurveyedPoint:
    return SurveyedPoint.model_validate(
        {"chainage_m": chainage, "east_m": east, "north_m": north, "height_m": height}
    )


LINE = (surveyed("100", "5000", "8000", "-900"), surveyed("200", "5000", "8100", "-900"))


def bolt(chainage: str, s: str, state: str = "present") -> BoltTold:
    return BoltTold.model_validate(
        {
            "row": 1,
            "position": 1,
            "chainage_m": chainage,
            "s_m": s,
            "state": state,
            "counts": state == "present",
            "plate_seated": True if state == "present" else None,
            "placed": "read",
        }
    )


def round_told(*bolts: BoltTold) -> RoundTold:
    return RoundTold(
        id=ROUND,
        number=87,
        joint_m=Decimal("150.0"),
        last_row_m=Decimal("153.6"),
        fired_at=None,
        recorded_at=AT,
        recorded_by="=HYPERLINK(1)",
        decision="accepted",
        signed_by="Day supervisor",
        role="shift supervisor",
        signed_at=AT,
        signature_fits=True,
        last_row_to_face_m=Decimal("0.82"),
        bolts=bolts,
        laps=(
            LapTold(
                number=1,
                middle_m=Decimal("150.0"),
                width_m=Decimal("0.3"),
                left_s_m=Decimal(-3),
                right_s_m=Decimal(3),
                openings=3,
                held=True,
                read=True,
            ),
        ),
        sheets=(
            SheetTold(
                number=1,
                from_m=Decimal("149.85"),
                to_m=Decimal("152.55"),
                left_s_m=Decimal(-3),
                right_s_m=Decimal(3),
                read=True,
            ),
        ),
    )


def damage_told(from_m: str = "160", to_m: str = "160", s_m: str | None = None) -> DamageTold:
    return DamageTold(
        id=HEADING,
        label="7K3Q-9XTR-5",
        kind="torn mesh",
        zone="back",
        from_m=Decimal(from_m),
        to_m=Decimal(to_m),
        s_m=None if s_m is None else Decimal(s_m),
        first_seen_at=AT,
        last_seen_at=AT,
        observations=1,
        extent=DamageExtent(openings=6),
        severity="S3",
        exposure="E3",
        cause=None,
        priority="P2",
        due_on=date(2031, 5, 13),
        overdue_days=None,
        grown=False,
        holds="restricted",
        outcome=None,
        because=("S3", "E3"),
        photos=(PhotoTold(sha256="5" * 64, month="203105", ending="jpg", taken_at=None,
                          kept_at=AT),),
    )  # fmt: skip


def heading_facts(
    *rounds: RoundTold,
    damages: tuple[DamageTold, ...] = (),
    line: tuple[SurveyedPoint, ...] = LINE,
    zone: str = "UTC",
) -> HeadingFacts:
    months = MonthTold(
        month="2031-05",
        fired_m=Decimal("3.6"),
        signed_m=Decimal("3.6"),
        signed_off=1,
        accepted_first=1,
        last_row_to_face_m=Decimal("0.82"),
        damage_found=len(damages),
        damage_repaired=0,
    )
    entry = EntryTold(
        line_m=Decimal("153.6"),
        face_m=Decimal("154.42"),
        outbye="entry allowed",
        beyond="no accepted support",
        because=(),
        mark=None,
        signed_m=Decimal("3.6"),
        fired_m=Decimal("3.6"),
    )
    return HeadingFacts(
        mine="Wrenfall",
        demo=True,
        zone=zone,
        as_at=AT,
        method_version=1,
        heading=HeadingTold(
            id=HEADING,
            name="4180 Main",
            level="4180",
            support_class="D1",
            entry=entry,
            open_damage=len(damages),
            overdue=0,
        ),
        support=STANDARD.support_class("D1"),
        surveyed=line,
        rechained=(),
        rounds=rounds,
        events=(),
        damages=damages,
        repairs=(),
        walks=(),
        walk_due=None,
        steel=(),
        tests=(),
        tests_due=(),
        months=(months,),
        trends=(),
    )


def pace_told(**other: object) -> PaceTold:
    """Tell of the minutes of four rounds."""
    return PaceTold.model_validate(
        {
            "measure": "minutes-per-round",
            "title": "Minutes per round",
            "unit": "min",
            "currency": None,
            "heading": "4180 Main",
            "method": "hand-held",
            "month": "2031-05",
            "rounds": 4,
            "median": "92",
            "low": None,
            "high": None,
            "days": 20,
            "per_year": None,
            "per_year_low": None,
            "per_year_high": None,
            **other,
        }
    )


def work_told(**other: object) -> WorkDone:
    """Tell of a month of whose work nothing is stated, but for what is named."""
    nothing: dict[str, object] = dict.fromkeys(
        ("pace", "by_month", "beyond", "delays", "materials"), ()
    )
    counts = ("rounds", "stated", "beyond_said", "beyond_stated", "delays_said")
    sure = dict.fromkeys(("beyond_low_percent", "beyond_high_percent"))
    return WorkDone.model_validate({**nothing, **dict.fromkeys(counts, 0), **sure, **other})


def month_facts(
    *damages: DamageTold, work: WorkDone | None = None, trends: tuple[TrendTold, ...] = ()
) -> MonthFacts:
    """Tell of a month of one heading in which this damage was found."""
    told = heading_facts(damages=damages)
    about = {it: getattr(told, it) for it in ("mine", "demo", "zone", "as_at", "method_version")}
    found = HeadingMonth(
        heading=told.heading,
        month=told.months[0],
        rounds=(),
        judged_otherwise=(),
        found=told.damages,
        repaired=(),
        walks=(),
        walk_due=None,
        tests=(),
        tests_due=(),
    )
    return MonthFacts(
        **about,
        month="2031-05",
        every_heading=True,
        headings=(found,),
        overdue=(),
        months=told.months,
        trends=trends,
        work=work or work_told(),
    )
