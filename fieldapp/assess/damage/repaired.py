"""What is left of a damage after its repairs: verified, all of it, and not seen since."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.damage.observed import Observation, in_order
from schemas.bodies.rehab import Outcome, Rehab


@dataclass(frozen=True)
class Left:
    """What of a damage no repair has restored."""

    seen: tuple[Observation, ...]
    """Observations that still stand, the oldest first; none once all is restored."""
    patched: bool
    """Whether all of them lie under a patch that was verified."""

    @property
    def outcome(self) -> Outcome | None:
        """What the damage is by now; None while it is unrepaired."""
        if not self.seen:
            return "restored"
        return "patched" if self.patched else None


def left_of(seen: Sequence[Observation], damage_id: str, repairs: Iterable[Rehab]) -> Left:
    """Find what is left of a damage once repairs are verified.

    Parameters
    ----------
    seen : sequence of Observation
        Of one damage, in any order. [m]
    damage_id : str
        Its id. [-]
    repairs : iterable of Rehab
        Those whose current revision is verified by who may. [m]

    Returns
    -------
    Left
        What the verifier did not know of, or lies outside of what was done, is there still. [m]

    Source
    ------
    Common practice, no source: a repair counts once somebody other than the installer has
    looked at it.
    """
    of_it = [it for it in repairs if damage_id in it.damages]
    left = tuple(it for it in in_order(seen) if not _is_under(it, of_it, "restored"))
    return Left(left, all(_is_under(it, of_it, "patched") for it in left))


def done_of(rehab: Rehab) -> tuple[Decimal, Decimal]:
    """Give the stretch that was done: all of it where nothing else is said.

    Parameters
    ----------
    rehab : Rehab
        As it is recorded. [m]

    Returns
    -------
    tuple of Decimal
        From and to. [m]

    Source
    ------
    Common practice, no source.
    """
    from_m = rehab.from_m if rehab.done_from_m is None else rehab.done_from_m
    to_m = rehab.to_m if rehab.done_to_m is None else rehab.done_to_m
    return from_m, to_m


def extent_of(seen: Iterable[Observation]) -> tuple[Decimal, Decimal]:
    """Give the stretch in which a damage was ever seen.

    Parameters
    ----------
    seen : iterable of Observation
        Of one damage. [m]

    Returns
    -------
    tuple of Decimal
        From and to. [m]

    Source
    ------
    Common practice, no source.
    """
    damages = [it.damage for it in seen]
    ends = [it.chainage_m for it in damages] + [it.to_m for it in damages if it.to_m is not None]
    return min(ends), max(ends)


def _is_under(observation: Observation, repairs: Iterable[Rehab], outcome: Outcome) -> bool:
    """Whether a repair covers an observation: by its id, as clocks can't be trusted to say."""
    from_m, to_m = extent_of([observation])
    for repair in repairs:
        begins_m, ends_m = done_of(repair)
        if (
            repair.outcome == outcome
            and observation.id in repair.covers
            and begins_m <= from_m
            and to_m <= ends_m
        ):
            return True
    return False
