"""Condition walks for tests: who walked what, when, and what they said of each section."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from fieldapp.work.known import Known
from fieldapp.work.writing import state
from schemas.bodies.walk import Walk
from tests.unit.work.conftest import Shift

TECHNICIAN, SUPERVISOR = "Geotechnical technician", "Day supervisor"


def section(from_m: object, to_m: object, /, **said: Any) -> dict[str, Any]:
    """Give a section where nothing was new, and what else is said of it."""
    return {"from_m": f"{from_m}", "to_m": f"{to_m}", "answer": "nothing new"} | said


def walk(
    shift: Shift,
    heading: str,
    *sections: Mapping[str, Any],
    who: str = TECHNICIAN,
    at: datetime | None = None,
    **said: Any,
) -> Known[Walk]:
    """State a walk of a heading, made now or at a time, as whoever walked it."""
    when = at or shift.clock()
    body = Walk.model_validate(
        {
            "heading": shift.place(heading).id,
            "month": f"{when:%Y-%m}",
            "began_at": when,
            "ended_at": when,
            "sections": [{"at": when} | dict(it) for it in sections],
        }
        | said
    )
    return Known(state(shift.site, "walk", body, author=shift.who(who).person_id), body)
