"""What every round of a heading came to, in figures: worked out once, remembered, never the truth.

A round is judged by the standard that was shown to whoever looked at it, as at its first
sign-off: what a later revision demands is no fault of that shift.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cache
from typing import Final, TypedDict

from pydantic import AwareDatetime, TypeAdapter

from fieldapp.assess import judged_by
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.assess.laps import lap_mm
from fieldapp.assess.take_off import (
    cost_of_round,
    meshed_m2,
    minutes_of,
    take_off_of_round,
)
from fieldapp.assess.whole import METHOD_VERSION
from fieldapp.work.authority import counting
from fieldapp.work.heading_record import heading_state
from fieldapp.work.judging import bundle_of
from fieldapp.work.known import Known, stated
from fieldapp.work.questions.haste import LOOK_AGAIN
from fieldapp.work.remembering import recalled, remember
from fieldapp.work.rounds import rounds
from fieldapp.work.signed import believed
from fieldapp.work.site import Sight, Site
from fieldapp.work.standard_in_force import of_revision
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.bodies.work_seen import WorkMethod
from schemas.findings import Finding
from schemas.numbers import STEP_MONEY, Metres, Millimetres, Money, SquareMetres, rounded
from schemas.part import Own
from schemas.standard import Standard

_FORM: Final = "3"
"""Of what is remembered: raise it when it changes."""
_FOLLOWED: Final = frozenset({"largest_gap", "last_row_to_face"})
"""Checks whose measured values are followed."""


class RoundFigures(Own):
    """One round in figures. What nobody read, or no standard judges, is None."""

    round_id: str
    name: str
    """"round 87"."""
    support_class: str
    crew: str | None
    at: AwareDatetime
    """When it was signed first; when it was recorded, where nobody has signed."""
    decision: str | None
    """The first one."""
    in_haste: bool
    """Whether three rows were answered in under six seconds and stood by."""
    largest_gap_m: Metres | None = None
    last_row_to_face_m: Metres | None = None
    least_lap_mm: Millimetres | None = None
    method: WorkMethod | None = None
    minutes: int | None = None
    """From start to finish of the support, delays and all."""
    meshed_m2: SquareMetres | None = None
    cost_per_m: Money | None = None
    """In the currency of the standard that was shown; None where something isn't stated."""
    currency: str | None = None
    beyond_last_row: bool | None = None
    """Whether somebody had to go there; None: nobody said."""


def round_figures(sight: Sight, heading_id: str) -> tuple[RoundFigures, ...]:
    """Give every round of a heading in figures, from the joint inbye."""

    def found() -> tuple[RoundFigures, ...]:
        return _kept(sight, heading_id) if isinstance(sight, Site) else _anew(sight, heading_id)

    return counting(sight).remembered(("round figures", heading_id), found)


def _kept(sight: Site, heading_id: str) -> tuple[RoundFigures, ...]:
    kept_as = f"round figures {heading_id}"
    state = f"{_FORM} {METHOD_VERSION} {heading_state(sight, heading_id)}"
    kept = recalled(sight, kept_as, state, _form())
    if kept is not None:
        return kept
    found = _anew(sight, heading_id)
    remember(sight, kept_as, state, _form(), found)
    return found


@cache
def _form() -> TypeAdapter[tuple[RoundFigures, ...]]:
    return TypeAdapter(tuple[RoundFigures, ...])


def _anew(sight: Sight, heading_id: str) -> tuple[RoundFigures, ...]:
    return tuple(_figures(sight, heading_id))


def _figures(sight: Sight, heading_id: str) -> Iterator[RoundFigures]:
    first = _first_signed(sight, heading_id)
    for it in rounds(sight, heading_id):
        signed = first.get(it.id)
        shown = of_revision(sight, it.body.standard)
        figures = _of_round(it, signed, shown)
        found = _measured(sight, it, shown, figures.at) if shown else ()
        yield figures.model_copy(update=_judged(it.body, found))


def _first_signed(sight: Sight, heading_id: str) -> Mapping[str, Known[SignOff]]:
    """Give each round's first sign-off that counts, whichever of its revisions it signed."""
    by_round: dict[str, list[Known[SignOff]]] = defaultdict(list)
    for it in believed(sight, stated(sight, "sign_off", SignOff, heading=heading_id)):
        by_round[it.body.round].append(it)
    return {
        of: min(these, key=lambda it: (it.entry.clock, it.entry.revision))
        for of, these in by_round.items()
    }


def _of_round(
    it: Known[Round], signed: Known[SignOff] | None, shown: Known[Standard] | None
) -> RoundFigures:
    body, at = it.body, signed.body.judged_at if signed else it.entry.made_at
    return RoundFigures(
        round_id=it.id,
        name=body.name,
        support_class=body.support_class,
        crew=body.bolter.crew,
        at=at,
        decision=signed.body.decision if signed else None,
        in_haste=any(said.answer != LOOK_AGAIN for said in body.hasty),
        least_lap_mm=_least_lap_mm(body, shown.body if shown else None),
        **_worked(body, shown.body if shown else None),
    )


def _measured(
    sight: Sight, it: Known[Round], shown: Known[Standard], at: AwareDatetime
) -> tuple[Finding, ...]:
    try:
        return judged_by(bundle_of(sight, it, shown, at), _FOLLOWED)
    except UnknownSupportClass:
        return ()


def _judged(seen: Round, findings: Sequence[Finding]) -> dict[str, Decimal | None]:
    """Give what was measured; new support over old has no face."""
    measured = {it.check: it.measured for it in reversed(findings) if it.measured}
    return {
        "largest_gap_m": _number(measured.get("largest_gap")),
        "last_row_to_face_m": None
        if seen.over is not None
        else _number(measured.get("last_row_to_face")),
    }


class _Worked(TypedDict, total=False):
    method: WorkMethod | None
    minutes: int | None
    meshed_m2: Decimal | None
    cost_per_m: Decimal | None
    currency: str | None
    beyond_last_row: bool | None


def _worked(body: Round, shown: Standard | None) -> _Worked:
    """Give what is stated of the work; mesh and cost need a standard that knows the class."""
    if body.work is None:
        return {}
    figures: _Worked = {
        "method": body.work.method,
        "minutes": minutes_of(body.work),
        "beyond_last_row": body.work.beyond_last_row,
    }
    demanded = shown.support_class(body.support_class) if shown else None
    if shown is None or demanded is None:
        return figures
    figures["meshed_m2"] = meshed_m2(demanded.mesh, body.work.used)
    found = take_off_of_round(shown, body) if shown.prices is not None else None
    if shown.prices is not None and found is not None:
        cost = cost_of_round(demanded, found, body.work, shown.prices)
        if cost is not None:
            figures["cost_per_m"] = rounded(cost / found.wanted.advance_m, STEP_MONEY)
            figures["currency"] = shown.prices.currency
    return figures


def _number(said: str | None) -> Decimal | None:
    """Give a figure that was written out; “36 of 36” is none."""
    return Decimal(said) if said and said.replace(".", "", 1).isdigit() else None


def _least_lap_mm(body: Round, shown: Standard | None) -> Decimal | None:
    demanded = shown.support_class(body.support_class) if shown else None
    pitch_mm = demanded.mesh.pitch_mm if demanded and demanded.mesh else None
    widths = [it.least_mm for it in body.laps if it.least_mm is not None]
    if pitch_mm is not None:
        counted: Sequence[int] = [it.openings for it in body.laps if it.openings is not None]
        widths += [lap_mm(openings, pitch_mm) for openings in counted]
    return min(widths, default=None)
