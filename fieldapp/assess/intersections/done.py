"""What was done of an intersection, and when: its cables over days, and its breakaway."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from schemas.bodies.intersection import Intersection

Revisions = tuple[Intersection, ...]


@dataclass(frozen=True)
class Done:
    """Every account of the cables, and when the breakaway was taken."""

    revisions: Revisions = ()
    """The first first."""
    opened_at: datetime | None = None
    """The first time; None: nobody said that it was."""
    cures_h: Decimal | None = None
    """How long the cables' grout cures; None: no standard here says it."""


def since_corrected(revisions: Revisions) -> Revisions:
    """Give those by which its place and its number of cables stand.

    Parameters
    ----------
    revisions : tuple of Intersection
        Every one that counts, the first first. [m]

    Returns
    -------
    tuple of Intersection
        From the last one on that says why it was put right; all where none does. What was done
        of the cables before stays done. [m]

    Source
    ------
    Common practice, no source: what is stricter stands until somebody who may puts it right.
    """
    put_right = [index for index, it in enumerate(revisions) if it.corrected_because]
    return revisions[put_right[-1] :] if put_right else revisions
