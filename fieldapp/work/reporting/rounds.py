"""What a report says of a heading's rounds and of what happened to its ground."""

from collections.abc import Iterable, Iterator, Sequence

from fieldapp.assess import assess
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.assess.lap_places import lap_places
from fieldapp.assess.mesh.lapped import Lap, laps_of
from fieldapp.assess.mesh.placed import placed_sheets
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Seen, seen_in
from fieldapp.work.both_standards import judged_otherwise
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.judging import judged_bundle
from fieldapp.work.known import Known
from fieldapp.work.people import name_of
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told import (
    BoltTold,
    EventTold,
    FindingTold,
    JudgedOtherwise,
    LapTold,
    RoundTold,
    SheetTold,
)
from fieldapp.work.reporting.worked import materials_told, work_told
from fieldapp.work.round_ends import ends_m
from fieldapp.work.sign import assessment_hash
from fieldapp.work.signatures import signature_fits
from fieldapp.work.signed import believed, deciding, sign_offs
from fieldapp.work.standard_in_force import NoStandard
from schemas.bodies.event import Event
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.bundle import Bundle
from schemas.findings import Assessment, Finding, Verdict
from schemas.numbers import STEP_M, rounded


def round_told(on: Reported, seen: Known[Round], record: HeadingRecord) -> RoundTold:
    """Tell of one round, and what was decided about it."""
    sight, body = on.sight, seen.body
    signed = deciding(sight, seen)
    first = next(iter(believed(sight, sign_offs(sight, seen.id))), None)
    readings = [it.value_m for it in face_readings(body).values() if body.over is None]
    return RoundTold(
        id=seen.id,
        number=body.number,
        over_old=body.over is not None,
        joint_m=body.joint_m,
        last_row_m=ends_m(seen),
        fired_at=body.fired_at,
        recorded_at=seen.entry.made_at,
        recorded_by=name_of(sight, seen.entry.author),
        decision=signed.body.decision if signed else None,
        signed_by=name_of(sight, signed.entry.author) if signed else None,
        role=signed.body.role if signed else None,
        signed_at=signed.entry.made_at if signed else None,
        signature_fits=signed is not None and signature_fits(sight, signed.entry),
        first_decision=first.body.decision if first else None,
        first_signed_at=first.entry.made_at if first else None,
        last_row_to_face_m=max(readings, default=None),
        in_dispute=any(it.in_dispute for it in record.rounds if it.round_id == seen.id),
    )


def with_findings(on: Reported, told: RoundTold, seen: Known[Round]) -> RoundTold:
    """Give a round with what judging it came to, as it was judged when it was signed."""
    signed = deciding(on.sight, seen)
    found = _judged(on, seen, signed)
    if found is None:
        return told
    assessment, bundle = found
    seen_there = seen_in(bundle)
    return told.model_copy(
        update={
            "verdict": assessment.verdict,
            "headline": assessment.headline,
            "standard": bundle.standard.name,
            "findings": tuple(_finding(it) for it in assessment.findings if _is_told(it)),
            "assessment": assessment_hash(assessment),
            "bolts": tuple(_bolts(seen_there, seen)),
            "laps": tuple(_laps(seen_there, seen)),
            "sheets": tuple(_sheets(seen_there, seen)),
            "materials": tuple(materials_told(bundle.round, bundle.standard)),
            "work": work_told(bundle.round, bundle.standard),
        }
    )


def judged_by_both(on: Reported, several: Iterable[Known[Round]]) -> Iterator[JudgedOtherwise]:
    """Tell of the rounds that the standard in force judges otherwise than that of their day."""
    for seen in several:
        both = judged_otherwise(on.sight, seen)
        if both is not None:
            then, now = both
            yield JudgedOtherwise(
                round=seen.body.number,
                then=then.words,
                now=now.words,
                breaches_now=now.breaches,
            )


def _judged(
    on: Reported, seen: Known[Round], signed: Known[SignOff] | None
) -> tuple[Assessment, Bundle] | None:
    try:
        bundle = judged_bundle(on.sight, seen, signed, on.at)
        return assess(bundle), bundle
    except (NoStandard, UnknownSupportClass):
        return None


def _bolts(seen: Seen, known: Known[Round]) -> Iterator[BoltTold]:
    """Tell of the bolts where they are today: they were judged by the chainages of their day."""
    for row in seen.rows:
        for it in row.all_bolts:
            there = it.looked_at and it.is_there
            yield BoltTold(
                row=row.number,
                position=it.position,
                chainage_m=known.today_m(rounded(it.chainage_m, STEP_M)),
                s_m=rounded(it.s_m, STEP_M),
                state="present" if there else "missing" if it.looked_at else "not looked at",
                counts=there and it.counts,
                plate_seated=it.seated if there else None,
                placed="as standard" if it.method == "assumed" else "read",
            )


def _sheets(seen: Seen, known: Known[Round]) -> Iterator[SheetTold]:
    for it in placed_sheets(seen):
        from_m = known.today_m(it.box.from_m)
        yield SheetTold(
            number=it.number,
            from_m=from_m,
            to_m=from_m + it.box.to_m - it.box.from_m,
            left_s_m=it.box.left_s_m,
            right_s_m=it.box.right_s_m,
            read=it.is_read,
        )


def _laps(seen: Seen, known: Known[Round]) -> Iterator[LapTold]:
    line = seen.rows[0].line if seen.rows else seen.all_rows[0].line
    if placed_sheets(seen):
        yield from (_lap_of_sheets(it, known) for it in laps_of(seen) if it.across and it.width_m)
        return
    for it in lap_places(seen):
        yield LapTold(
            number=it.number,
            middle_m=known.today_m(it.middle_m),
            width_m=it.width_m,
            left_s_m=rounded(line.left_s_m, STEP_M),
            right_s_m=rounded(line.right_s_m, STEP_M),
            openings=it.read.openings if it.read else None,
            held=it.read.held if it.read else None,
            read=it.read is not None,
        )


def _lap_of_sheets(lap: Lap, known: Known[Round]) -> LapTold:
    """Tell of a lap across the drive between two sheets, as they were placed."""
    held = [it.held for it in lap.read if it.held is not None]
    counted = [it.openings for it in lap.read if it.openings is not None]
    return LapTold(
        number=lap.number or 0,
        middle_m=known.today_m(rounded(lap.box.middle_m[0], STEP_M)),
        width_m=rounded(lap.width_m or 0, STEP_M),
        left_s_m=lap.box.left_s_m,
        right_s_m=lap.box.right_s_m,
        openings=min(counted, default=None),
        held=all(held) if held else None,
        read=lap.is_read,
    )


def _is_told(finding: Finding) -> bool:
    return finding.verdict is not Verdict.ACCEPT or finding.deviation is not None


def _finding(it: Finding) -> FindingTold:
    doubt = f" ± {it.uncertainty}" if it.measured and it.uncertainty else ""
    return FindingTold(
        title=it.title,
        verdict=it.verdict,
        measured=f"{it.measured}{doubt} {it.unit}".strip() if it.measured else "",
        limit=f"{it.limit} {it.unit}".strip() if it.limit else "",
        places="; ".join(place.words for place in it.places),
        because=it.because,
        fix=it.fix,
        deviation=it.deviation,
    )


def events_told(
    on: Reported, happened: Sequence[Known[Event]], record: HeadingRecord
) -> Iterator[EventTold]:
    """Tell of what happened to the ground, and when somebody looked after it."""
    inspected = {it.event_id: it.inspected_at for it in record.events}
    for it in happened:
        yield EventTold(
            what=it.body.what,
            at=it.body.at,
            chainage_m=it.body.chainage_m,
            stripped=it.body.stripped,
            radius_m=it.body.radius_m,
            fired_m=it.body.fired_m,
            excluded_until=it.body.excluded_until,
            inspected_at=inspected.get(it.id),
            stated_by=name_of(on.sight, it.entry.author),
            note=it.body.note,
        )
