"""What damage and its repair withdraw of entry: at once, and by what was seen of them.

Nobody has to lift it: a repair that somebody other than the installer verified lets it go.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Final

from fieldapp.assess.damage import Left, Ranked, extent_of
from fieldapp.assess.entry.caps import Cap, State
from fieldapp.assess.entry.facts import DamageFact, HeadingFacts, RepairFact
from schemas.bodies.rehab import Rehab, RehabState
from schemas.findings import Verdict
from schemas.numbers import SAID_M, rounded, text
from schemas.rehab_rules import Holds, RehabRule

BEHIND_A_BARRIER: Final[tuple[RehabState, ...]] = ("in hand", "done", "refused")
"""From the start until it is verified a repair's stretch is barricaded."""
SAME_SPOT_M: Final = Decimal("0.5")
"""Damages so near each other are met together. Common practice, no source."""


def damage_fact(
    damage_id: str, left: Left, ranked: Ranked, rule: RehabRule | None
) -> DamageFact | None:
    """Give what a damage means for entry.

    Parameters
    ----------
    damage_id : str
        Its id. [-]
    left : Left
        What no repair has restored. [m]
    ranked : Ranked
        By what is left of it. [-]
    rule : RehabRule or None
        What holds beneath a patch; without one a patch lets nothing go. [-]

    Returns
    -------
    DamageFact or None
        None where it is restored, or entry is as it was. [m]

    Source
    ------
    Common practice, no source.
    """
    holds: Holds = ranked.holds
    if left.patched and rule is not None:
        holds = rule.patched_holds
    if not left.seen or holds == "open":
        return None
    newest = left.seen[-1].damage
    from_m, _ = extent_of(left.seen)
    because = f"{newest.kind} at {_said(from_m)} m, {newest.zone}, {ranked.code}"
    strict = [it.because for it in ranked.beneath if it.holds == holds]
    because += f": {strict[0]}" if strict and not left.patched else ""
    counted = (it.damage.extent.openings or 0 for it in left.seen)
    return DamageFact(damage_id, from_m, holds, because, ranked.rank, max(counted))


def repair_fact(rehab_id: str, rehab: Rehab) -> RepairFact:
    """Give what a repair means for entry.

    Parameters
    ----------
    rehab_id : str
        Its id. [-]
    rehab : Rehab
        As a current revision that counts has it. [m]

    Returns
    -------
    RepairFact
        Where it is, and how far it is. [m]

    Source
    ------
    Common practice, no source.
    """
    barrier_m = rehab.barricade.at_m if rehab.barricade is not None else None
    return RepairFact(rehab_id, rehab.from_m, rehab.to_m, rehab.state, rehab.crew or "", barrier_m)


def damage_caps(facts: HeadingFacts) -> Iterator[Cap]:
    """Yield why nobody goes beneath damage, or where it is being repaired.

    Parameters
    ----------
    facts : HeadingFacts
        Damage and repairs of one heading among them. [m]

    Returns
    -------
    iterator of Cap
        Of damages that one meets together the gravest first, all where the first of them
        begins; one typed beyond the face counts at the face. [m]

    Source
    ------
    Common practice, no source: what is stricter stands.
    """
    for spot in _spots(facts.damages):
        line_m = min(*(it.from_m for it in spot), facts.face_m)
        gravest, *others = sorted(spot, key=lambda it: (it.rank, -it.openings, it.from_m))
        more = f"; {len(others)} more there" if others else ""
        yield from _damage_cap(gravest, line_m, f"{gravest.because}{more}")
        for it in others:
            yield from _damage_cap(it, line_m, it.because)
    for repair in facts.repairs:
        yield from _repair_cap(repair, facts.face_m)


def _spots(damages: Iterable[DamageFact]) -> tuple[list[DamageFact], ...]:
    """Put together what one meets at one spot and what holds entry alike, from outbye."""
    spots: list[list[DamageFact]] = []
    for it in sorted(damages, key=lambda it: (it.holds, it.from_m)):
        first = spots[-1][0] if spots else None
        if first and first.holds == it.holds and it.from_m - first.from_m <= SAME_SPOT_M:
            spots[-1].append(it)
        else:
            spots.append([it])
    return tuple(spots)


def _damage_cap(damage: DamageFact, line_m: Decimal, because: str) -> Iterator[Cap]:
    if damage.holds == "no entry":
        yield _closed(line_m, "no entry, barrier not yet up", f"no entry: {because}")
    elif damage.holds == "restricted":
        said = f"restricted: {because}"
        yield Cap(line_m, "restricted", Verdict.REWORK, said, origin="stated")


def _repair_cap(repair: RepairFact, face_m: Decimal) -> Iterator[Cap]:
    line_m = min(repair.from_m, face_m)
    where = f"{_said(repair.from_m)} to {_said(repair.to_m)} m"
    if repair.state in BEHIND_A_BARRIER:
        by = f" by {repair.crew}" if repair.crew else ""
        how_far = {"in hand": "in hand", "done": "done, not yet verified", "refused": "refused"}
        because = f"barricaded: repair {how_far[repair.state]}, {where}{by}"
        barrier_m = line_m if repair.barrier_m is None else min(repair.barrier_m, line_m)
        yield replace(_closed(barrier_m, "barricaded", because), barrier=True)
    elif repair.state == "reopened":
        because = f"no entry: the repair of {where} was reopened"
        yield _closed(line_m, "no entry, barrier not yet up", because)


def _closed(line_m: Decimal, state: State, because: str) -> Cap:
    return Cap(line_m, state, Verdict.NO_ENTRY, because, origin="stated")


def _said(chainage_m: Decimal) -> str:
    return text(rounded(chainage_m, SAID_M))
