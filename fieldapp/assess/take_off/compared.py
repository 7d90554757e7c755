"""What really went into a round against what it takes by the standard."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.take_off.whole import Kind, TakeOff
from schemas.bodies.work_seen import Used


@dataclass(frozen=True)
class Difference:
    """One thing that somebody counted."""

    kind: Kind
    of: str
    """Code of a bolt; empty where all of a kind were counted together."""
    by_standard: Decimal
    used: Decimal

    @property
    def more(self) -> Decimal:
        """How much more was used; less where it is below nought."""
        return self.used - self.by_standard


def compared(found: TakeOff, used: Used) -> tuple[Difference, ...]:
    """Compare what was used with the take-off.

    Parameters
    ----------
    found : TakeOff
        Of the same round. [various]
    used : Used
        What somebody counted; the rest is left out. [various]

    Returns
    -------
    tuple of Difference
        In the order of the take-off; no verdict. [various]

    Source
    ------
    Common practice, no source.
    """
    return tuple(_compared(found, used))


def _compared(found: TakeOff, used: Used) -> Iterator[Difference]:
    for bolts in used.bolts:
        wanted = _of(found, "bolts", bolts.bolt_type)
        yield Difference("bolts", bolts.bolt_type, wanted, Decimal(bolts.bolts))
    strips = any(it.kind == "strips" for it in found.items)
    counted: tuple[tuple[Kind, int | Decimal | None], ...] = (
        ("plates", used.plates),
        ("capsules", used.capsules),
        ("strips" if strips else "sheets", used.mesh_pieces),
        ("mesh", used.mesh_m2),
    )
    for kind, much in counted:
        if much is not None:
            yield Difference(kind, "", _of(found, kind), Decimal(much))


def _of(found: TakeOff, kind: Kind, of: str | None = None) -> Decimal:
    same = (it for it in found.items if it.kind == kind and of in (None, it.of))
    return sum((it.per_round for it in same), Decimal(0))
