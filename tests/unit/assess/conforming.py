"""A round of the demo mine that conforms, and ways to spoil it one thing at a time."""

import json
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from importlib import resources
from typing import Any

from fieldapp.assess import assess
from fieldapp.assess.demanded import laps_demanded, rows_demanded
from fieldapp.assess.torque import first_every_nth_last
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
    MeshSeen,
    OldRow,
    Round,
    RowSeen,
    ShotcreteSeen,
    SpacingSeen,
    TorqueSeen,
)
from schemas.bundle import Bundle
from schemas.findings import Finding
from schemas.standard import Standard, SupportClass

FINISHED = datetime(2031, 5, 4, 2, tzinfo=UTC)
LOOKED = FINISHED + timedelta(hours=30)
JOINT = Decimal("1386.40")


def demo_standard() -> Standard:
    path = resources.files("assets").joinpath("demo/standard.json")
    return Standard.model_validate(json.loads(path.read_text(encoding="utf-8")))


STANDARD = demo_standard()


def conforming(code: str = "D1", rows: int = 3, **changes: Any) -> Bundle:
    """A round of a class, everything looked at, everything as demanded."""
    support_class = STANDARD.support_class(code)
    assert support_class is not None
    seen = _round(support_class, rows)
    return bundle_of(seen.model_copy(update=changes))


def bundle_of(seen: Round, **changes: Any) -> Bundle:
    heading = Heading(
        name="1320 decline",
        support_class=seen.support_class,
        face_m=JOINT,
        last_row_m=JOINT,
        demo=True,
    )
    bundle = Bundle(heading=heading, standard=STANDARD, round=seen, as_at=LOOKED)
    return bundle.model_copy(update=changes)


def with_row(bundle: Bundle, number: int, **changes: Any) -> Bundle:
    rows = tuple(
        row.model_copy(update=changes) if row.number == number else row
        for row in bundle.round.rows
    )
    return with_round(bundle, rows=rows)


def with_round(bundle: Bundle, **changes: Any) -> Bundle:
    return bundle.model_copy(update={"round": bundle.round.model_copy(update=changes)})


def with_bolts(bundle: Bundle, number: int, *bolts: BoltSeen) -> Bundle:
    """Mark bolts of a row; the plates counted are fewer by those that are gone or loose."""
    row = next(row for row in bundle.round.rows if row.number == number)
    without = sum(bolt.state != "present" or bolt.plate == "loose" for bolt in bolts)
    counted = None
    if row.counted is not None:
        counted = row.counted.model_copy(update={"plates": row.counted.plates - without})
    return with_row(bundle, number, bolts=(*row.bolts, *bolts), counted=counted)


def missing(position: int) -> BoltSeen:
    return BoltSeen(position=position, state="missing")


def loose(position: int) -> BoltSeen:
    return BoltSeen(position=position, state="present", plate="loose")


def length(value: str | Decimal, method: Any = "tape", **more: Any) -> LengthReading:
    return LengthReading(value_m=Decimal(value), method=method, **more)


def counted(plates: int) -> CountedRow:
    return CountedRow(plates=plates, at=LOOKED)


def finding(bundle: Bundle, check: str) -> Finding:
    """The gravest finding of one check."""
    return next(one for one in assess(bundle).findings if one.check == check)


def with_limit(bundle: Bundle, check: str, **changes: Any) -> Bundle:
    """The same round under a standard that demands something else of one check."""
    classes = []
    for known in bundle.standard.classes:
        if known.code == bundle.round.support_class:
            limit = getattr(known.limits, check).model_copy(update=changes)
            limits = known.limits.model_copy(update={check: limit})
            classes.append(known.model_copy(update={"limits": limits}))
        else:
            classes.append(known)
    standard = bundle.standard.model_copy(update={"classes": tuple(classes)})
    return bundle.model_copy(update={"standard": standard})


def _round(support_class: SupportClass, rows: int) -> Round:
    pattern, limits = support_class.pattern, support_class.limits
    seen = Round(
        heading="heading",
        number=412,
        support_class=support_class.code,
        standard="0" * 64,
        joint_m=JOINT,
        rows_planned=rows,
        started_at=LOOKED,
        ground=GroundSeen(condition="as expected"),
        barring=Barring(before_by="bolter crew", before_when="this shift", after_bolting=True),
        bolter=_bolter(support_class),
        face=FaceSeen(scaled_and_supported=True, misfires_and_butts="none found"),
        last_row_marked=True,
        old_rows=_old_rows(support_class),
    )
    demanded = rows_demanded(support_class, seen)
    spacing = (demanded[0].s_m[1] - demanded[0].s_m[0]) if demanded[0].s_m[1:] else 1.0
    taped = SpacingSeen(
        from_position=4, to_position=5, reading=length(f"{spacing:.3f}", straight=False)
    )
    seen_rows = tuple(
        RowSeen(
            number=row.number,
            ahead_of_row_before=length(pattern.row_spacing_m),
            counted=counted(len(row.s_m)),
            spacings=(taped,),
        )
        for row in demanded
    )
    wheres: tuple[Any, ...] = ("left", "middle", "right")
    to_face = limits.last_row_to_face.at_most_m - Decimal("0.2")
    return seen.model_copy(
        update={
            "rows": seen_rows,
            "laps": _laps(support_class, rows),
            "mesh": _mesh(support_class, to_face),
            "shotcrete": _shotcrete(support_class),
            "torques": _torques(support_class, sum(len(row.s_m) for row in demanded)),
            "face_readings": tuple(
                FaceReading(where=where, reading=length(to_face, "staff")) for where in wheres
            ),
        }
    )


def _bolter(support_class: SupportClass) -> BolterCheck:
    bolt = support_class.bolts[0]
    return BolterCheck(
        done=True,
        crew="crew A",
        blocked_holes=0,
        bolt_type=bolt.code,
        bolt_length_m=bolt.length_m,
        basis="pack label",
        bolting_finished_at=FINISHED,
    )


def _old_rows(support_class: SupportClass) -> tuple[OldRow, ...]:
    full = rows_demanded(
        support_class,
        Round(
            heading="heading",
            number=1,
            support_class=support_class.code,
            standard="0" * 64,
            joint_m=JOINT,
            rows_planned=2,
            started_at=LOOKED,
        ),
    )
    staggered = support_class.pattern.kind == "staggered"
    by_offset = {row.offset: len(row.s_m) for row in full}
    return tuple(
        OldRow(
            chainage_m=JOINT - back * support_class.pattern.row_spacing_m,
            staggered=staggered and back == 1,
            confirmed=counted(by_offset[staggered and back == 1]),
        )
        for back in (1, 0)
    )


def _laps(support_class: SupportClass, rows: int) -> tuple[LapSeen, ...]:
    lap = support_class.limits.mesh_lap
    if lap is None:
        return ()
    return tuple(
        LapSeen(number=n, openings=lap.at_least_openings, held=True)
        for n in range(1, laps_demanded(support_class, rows) + 1)
    )


def _mesh(support_class: SupportClass, to_face: Decimal) -> MeshSeen:
    reach = support_class.limits.mesh_reach
    if reach is None:
        return MeshSeen()
    return MeshSeen(
        to_face=length(to_face, "staff"),
        above_floor=length(reach.above_floor_at_most_m - Decimal("0.1")),
        no_holes=True,
        no_bagging=True,
    )


def _shotcrete(support_class: SupportClass) -> ShotcreteSeen:
    demanded = support_class.shotcrete
    if demanded is None:
        return ShotcreteSeen()
    return ShotcreteSeen(
        sprayed_at=FINISHED,
        thickness_mm=(demanded.thickness_mm + 10,) * 3,
        strength_mpa=demanded.curing.strength_mpa,
    )


def _torques(support_class: SupportClass, bolts: int) -> tuple[TorqueSeen, ...]:
    limit = support_class.limits.torque
    if limit is None:
        return ()
    middle = (limit.at_least_nm + limit.at_most_nm) / 2
    return tuple(
        TorqueSeen(bolt=n, torque_nm=middle) for n in first_every_nth_last(bolts, limit.n)
    )
