"""Damage that is open where somebody walks: what became of it is asked, and both are kept.

A section where nothing is new, or a zone without damage, beside damage that nobody repaired is a
contradiction unless somebody says how that stands. Whatever is said, it stays open until its
repair is verified.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any, Final

from fieldapp.assess.damage import extent_of, in_order
from fieldapp.work.asked import Asked, Choice
from fieldapp.work.called import called
from fieldapp.work.damage_record import SeenDamage, left
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.site import Timed
from fieldapp.work.walk.section_history import ground_today
from fieldapp.work.walk.section_work import OF, SectionWork
from schemas.bodies.damage import DamageKind, DamageZone
from schemas.bodies.walk import DamageSaid, Walk
from schemas.numbers import SAID_M, rounded, text

ONE_BY_ONE: Final = "one by one"
SAID: Final[dict[DamageSaid, str]] = {
    "as it was": "still so",
    "worse": "record it again",
    "repaired": "nobody verified that yet",
    "not seen": "could not be seen",
}


@dataclass(frozen=True)
class OpenDamage:
    """One damage that no verified repair has restored."""

    id: str
    kind: DamageKind
    zone: DamageZone
    from_m: Decimal
    to_m: Decimal

    @property
    def words(self) -> str:
        """Name it: "torn mesh at 23.4 m, back, 7K3Q-9XTR-5"."""
        at_m = text(rounded(self.from_m, SAID_M))
        return f"{self.kind} at {at_m} m, {self.zone}, {called(self.id)}"

    def is_in(self, from_m: Decimal, to_m: Decimal) -> bool:
        """Whether any of it lies in a section."""
        return self.from_m < to_m and self.to_m >= from_m


def open_damages(record: HeadingRecord, before: datetime) -> tuple[OpenDamage, ...]:
    """Give the open damage of a heading that somebody saw before a walk began, outbye first."""
    found = (it for it in record.damages if left(it, record.rehabs).outcome != "restored")
    known = [_open(it) for it in found if min(_seen_at(it)) < before]
    return tuple(sorted(known, key=lambda it: (it.from_m, it.id)))


def open_damage_question(section: SectionWork, there: Sequence[OpenDamage]) -> Asked | None:
    """Ask what became of damage that is open in a section; None once it is said of all of it."""
    left_over = [it for it in there if it.id not in section.open_damage]
    if not left_over:
        return None
    if len(left_over) > 1 and ONE_BY_ONE not in section.said:
        return _of_all(left_over)
    return _of_one(left_over[0])


def not_told(site: Timed, walk: Walk, known: Sequence[OpenDamage]) -> str | None:
    """Name the first open damage of whose section a walk says all, and nothing of it.

    A section that says itself that it was only begun, with what it lacks, stays due.
    """
    for section in walk.sections:
        told = {it.damage for it in section.open_damage}
        ground = ground_today(site, walk, section)
        is_whole = section.answer != "not reached" and not section.unanswered
        for it in known if is_whole else ():
            if it.is_in(ground.from_m, ground.to_m) and it.id not in told:
                return it.words
    return None


def _open(damage: SeenDamage) -> OpenDamage:
    newest = in_order(damage.seen)[-1].damage
    return OpenDamage(damage.id, newest.kind, newest.zone, *extent_of(damage.seen))


def _seen_at(damage: SeenDamage) -> Iterator[datetime]:
    return (it.damage.seen_at for it in damage.seen)


def _of_one(damage: OpenDamage) -> Asked:
    choices = tuple(Choice(it, _says(damage, it), note) for it, note in SAID.items())
    ask, hint = f"Open damage: {damage.kind}. Still so?", f"{damage.words}."
    return Asked(f"open {damage.id}", ask=ask, hint=hint, choices=choices)


def _of_all(damages: Sequence[OpenDamage]) -> Asked:
    kinds = ", ".join(f"{it.kind} {it.zone}" for it in damages)
    every = {it.id: "as it was" for it in damages}
    unseen = {it.id: "not seen" for it in damages}
    choices = (
        Choice("all as it was", {"open": every}, "looked at each"),
        Choice(ONE_BY_ONE, {ONE_BY_ONE: True}, "worse, repaired"),
        Choice("none seen", {"open": unseen}, "could not be seen"),
    )
    ask = f"{len(damages)} open damages here: still so?"
    return Asked(f"open of {len(damages)}", ask=ask, hint=f"{kinds}.", choices=choices)


def _says(damage: OpenDamage, said: DamageSaid) -> dict[str, Any]:
    """Give what an answer says; what is worse is new, and recorded as seen again on the spot."""
    told: dict[str, Any] = {"open": {damage.id: said}}
    if said != "worse":
        return told
    return told | {"thing": {OF: "damage", "zone": damage.zone, "again": damage.id}}
