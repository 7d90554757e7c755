"""Plans of walks and what is known of a section, as JSON: figures as text, as everywhere."""

import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fieldapp.assess.corrosion import Rate
    from fieldapp.assess.walk import Section, ToLookAt
    from fieldapp.work.both_standards import Judged, PlaceJudged
    from fieldapp.work.site import Site
    from fieldapp.work.walk.plan import PlannedSection, WalkPlan
    from fieldapp.work.walk.section_corrosion import GradeKnown
    from fieldapp.work.walk.section_history import Look, SectionKnown
    from fieldapp.work.walk.section_steel import SteelKnown

Json = dict[str, object]


def plans_json(plans: "Mapping[str, WalkPlan]") -> str:
    """Write the plans of headings, by their names."""
    return _written([{"heading": name} | _plan(it) for name, it in plans.items()])


def section_json(site: "Site", heading_id: str, known: "SectionKnown") -> str:
    """Write what is known of a section: when it is due, every look, rust, both standards."""
    from fieldapp.work.both_standards import both_standards
    from fieldapp.work.walk.section_due import section_due, walking

    due = section_due(site, walking(site, heading_id, known.section), known)
    return _written(
        {
            "heading": heading_id,
            **_ground(known.section),
            "due_on": due.due.on.isoformat(),
            "at_once": due.due.at_once,
            "why": due.due.why,
            "before_next_walk": due.before_next_walk,
            "looks": [_look(it) for it in known.looks],
            "grades": [_grade(it) for it in due.corrosion.grades],
            "steel": [_steel(it) for it in due.corrosion.steel],
            "standards": [
                _standards(it) for it in both_standards(site, heading_id, known.section)
            ],
        }
    )


def _plan(plan: "WalkPlan") -> Json:
    return {
        "month": plan.month,
        "there": plan.there,
        "sections": [_planned(it) for it in plan.sections],
        "looked_at": [_sample(it) for it in plan.looked_at],
    }


def _planned(it: "PlannedSection") -> Json:
    return {
        **_ground(it.section),
        "due_on": it.due_on.isoformat(),
        "late_days": it.late_days,
        "at_once": it.at_once,
        "why": it.why,
        "before_next_walk": it.before_next_walk,
        "in_full": it.in_full,
        "photo": it.photo,
        "last": _look(it.last) if it.last else None,
    }


def _sample(it: "ToLookAt") -> Json:
    return {
        "of": it.rule.of,
        "stratum": it.stratum,
        "there": it.there,
        "estimated": it.estimated,
        "words": it.words,
        "because": it.rule.because,
        "iso_2859_1": {"looks": it.plan.looks, "lets_pass": it.plan.lets_pass}
        if it.plan
        else None,
        "drawn": [
            {"place": spot.words, "chainage_m": str(spot.chainage_m), "s_m": str(spot.s_m)}
            for spot in it.spots
        ],
    }


def _look(it: "Look") -> Json:
    return {
        "walk": it.walk_id,
        "author": it.author,
        "month": it.month,
        "today": _ground(it.ground),
        "two_on_this_day": it.two_on_this_day,
        "read_apart": [
            {"station": one.station, "by_mm": str(one.by_mm), "doubt_mm": str(one.doubt_mm)}
            for one in it.apart
        ],
        "seen": it.seen.model_dump(mode="json", exclude_none=True),
    }


def _grade(it: "GradeKnown") -> Json:
    return {
        "part": it.part,
        "zone": it.zone,
        "grade": it.grade,
        "seen_on": it.seen_on.isoformat(),
        "water": it.water,
        "age_years": _text(it.age_years),
        "before_put_up": it.before_put_up,
    }


def _steel(it: "SteelKnown") -> Json:
    lasts, usual = it.judged.lasts, it.judged.usual
    return {
        "part": it.part,
        "zone": it.zone,
        "steel": it.piece.steel,
        "chainage_m": str(it.at_m),
        "new_mm": str(it.piece.new_mm),
        "readings": [
            {"at": read.at.isoformat(), "read_mm": str(read.left_mm), "u_mm": str(read.u_mm)}
            for read in it.readings
        ],
        "share_at_least": str(it.left.share_at_least),
        "share_at_most": _text(it.judged.share),
        "by": it.judged.governs,
        "rate": _rate(it.judged.rate) if it.judged.rate else None,
        "standards_rate": usual.model_dump(mode="json") if usual else None,
        "years": _text(lasts.years) if lasts else None,
        "years_earliest": _text(lasts.earliest) if lasts else None,
        "years_latest": _text(lasts.latest) if lasts else None,
        "before_next_walk": it.judged.may_fall_before_next_walk,
        "words": it.words,
    }


def _rate(it: "Rate") -> Json:
    """Write what each surface loses by dated readings; the category is set beside it."""
    return {
        "rate_um_per_year": str(it.um_per_year),
        "rate_from_um_per_year": _text(it.interval.low) if it.interval else None,
        "rate_to_um_per_year": _text(it.interval.high) if it.interval else None,
        "readings": it.readings,
        "iso_9223_first_year": it.corrosivity,
    }


def _standards(it: "PlaceJudged") -> Json:
    return {
        **_ground(it.ground),
        "round": it.round_number,
        "over_old": it.over_old,
        "when_put_up": _judged(it.then),
        "in_force_now": _judged(it.now),
        "falls_short_now": it.falls_short_now,
    }


def _judged(it: "Judged | None") -> Json | None:
    if it is None:
        return None
    headline = it.assessment.headline if it.assessment else None
    known = {"standard": it.standard, "revision": it.revision, "headline": headline}
    return known | {"breaches": it.breaches}


def _ground(section: "Section") -> Json:
    return {"from_m": str(section.from_m), "to_m": str(section.to_m)}


def _text(value: object) -> str | None:
    return None if value is None else str(value)


def _written(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
