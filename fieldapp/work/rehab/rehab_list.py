"""What is to be repaired and how far it is: first where nobody may be, then what is overdue."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Literal

from fieldapp.assess.damage import Ranked, done_of, urgency
from fieldapp.work.authority import at_one_state
from fieldapp.work.damage.stating import DamageKnown, damages
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known, current
from fieldapp.work.rehab.revisions import strictest_of
from fieldapp.work.site import Sight
from schemas.bodies.heading import Heading
from schemas.bodies.rehab import Rehab, RehabState
from schemas.entry import Entry

Standing = RehabState | Literal["not planned", "patched"]


@dataclass(frozen=True)
class RehabRow:
    """One line of the list: a repair, or damage for which none is planned."""

    id: str
    """Of the repair, or of the damage."""
    heading_id: str
    heading: str
    from_m: Decimal
    to_m: Decimal
    state: Standing
    damages: tuple[DamageKnown, ...]
    """What it repairs, as far as it is known here, the most urgent first."""
    rehab: Rehab | None = None
    stated: Entry | None = None
    """The revision of the repair: who stated it, and when."""

    @property
    def ranked(self) -> Ranked | None:
        """How soon, by the most urgent damage; None where none of it is known here."""
        return self.damages[0].ranked if self.damages else None

    @property
    def is_overdue(self) -> bool:
        """Whether any of what it repairs should have been repaired by now."""
        return any(it.ranked.escalated for it in self.damages)

    @property
    def seen(self) -> tuple[str, ...]:
        """Ids of every observation of what it repairs: photos from before are of one of them."""
        return tuple(one for it in self.damages for one in it.observations)

    @property
    def is_open(self) -> bool:
        """Whether something is still to be done."""
        return self.state != "verified"


def rehab_list(site: Sight, at: datetime, *, verified: bool = False) -> tuple[RehabRow, ...]:
    """Give the list by urgency (`assess/damage/priority.py`) and place; `verified` at the end.

    Damage that is repaired under no plan stands there by itself, patched damage to be restored.
    """
    with at_one_state(site):
        rows = [it for place in headings(site) for it in _of_heading(site, place, at)]
    wanted = (it for it in rows if it.is_open or verified)
    return in_order(wanted)


def in_order(rows: Iterable[RehabRow]) -> tuple[RehabRow, ...]:
    """Give rows, of one heading or of many, in the order in which they are done."""
    return tuple(sorted(rows, key=_order))


def rehab_rows(site: Sight, heading_id: str, at: datetime) -> tuple[RehabRow, ...]:
    """Give what of the list is still to be done in one heading."""
    known = _of_heading(site, heading(site, heading_id), at)
    return in_order(it for it in known if it.is_open)


def not_planned(site: Sight, damage: DamageKnown, at: datetime) -> tuple[DamageKnown, ...]:
    """Give the other damage of a heading for which no repair is planned, the nearest first."""
    waiting = (it for it in rehab_rows(site, damage.heading_id, at) if it.rehab is None)
    others = (one for it in waiting for one in it.damages if one.id != damage.id)
    return tuple(sorted(others, key=lambda it: abs(it.from_m - damage.from_m)))


def _order(row: RehabRow) -> tuple[object, ...]:
    ranked = row.ranked
    urgent = urgency(ranked) if ranked else (1, True, True, -1, float("-inf"))
    return (not row.is_open, *urgent, row.heading, row.from_m, row.id)


def _of_heading(site: Sight, place: Known[Heading], at: datetime) -> Iterator[RehabRow]:
    known = damages(site, at, place.id)
    repairs = _repairs(site, place.id)
    for repair in repairs:
        yield _row(place, repair, known)
    planned = {it for repair in repairs for it in repair.body.damages if _is_open(repair)}
    for damage in known:
        if damage.id not in planned and damage.outcome != "restored":
            yield RehabRow(
                id=damage.id,
                heading_id=place.id,
                heading=place.body.name,
                from_m=damage.from_m,
                to_m=damage.to_m,
                state="patched" if damage.outcome == "patched" else "not planned",
                damages=(damage,),
            )


def worked_on(repair: Rehab) -> tuple[Decimal, Decimal]:
    """Give what was done of a repair that is said to be done, else all that it is planned for."""
    if repair.state in ("done", "verified"):
        return done_of(repair)
    return repair.from_m, repair.to_m


def _row(place: Known[Heading], repair: Known[Rehab], known: Sequence[DamageKnown]) -> RehabRow:
    from_m, to_m = worked_on(repair.body)
    return RehabRow(
        id=repair.id,
        heading_id=place.id,
        heading=place.body.name,
        from_m=from_m,
        to_m=to_m,
        state=repair.body.state,
        damages=tuple(it for it in known if it.id in repair.body.damages),
        rehab=repair.body,
        stated=repair.entry,
    )


def _is_open(repair: Known[Rehab]) -> bool:
    return repair.body.state != "verified"


def _repairs(site: Sight, heading_id: str) -> tuple[Known[Rehab], ...]:
    """Give each repair once, as the strictest of its revisions has it."""
    heads = defaultdict(list)
    for it in current(site, "rehab", Rehab, heading=heading_id):
        heads[it.id].append(it)
    return tuple(strictest_of(of_one) for of_one in heads.values())
