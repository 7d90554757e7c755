"""How far into a round people may go: the strictest of what was seen, never typed.

The least of the last row in the unbroken run of complete rows from the joint, and the edge
of the mesh held by plates. What events and notices withdraw is added by `entry_state`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True)
class RowStanding:
    """One row, and whether it is complete and every finding of it lets it be accepted."""

    chainage_m: Decimal
    complete: bool


def rows_complete_to(rows: Sequence[RowStanding]) -> Decimal | None:
    """Find the last row in the unbroken run from the joint.

    Parameters
    ----------
    rows : sequence of RowStanding
        In order to the face. [m]

    Returns
    -------
    Decimal or None
        Its chainage; None when the first row already breaks it. [m]

    Source
    ------
    Common practice, no source: nobody passes the last row of complete support.
    """
    last: Decimal | None = None
    for row in rows:
        if not row.complete:
            break
        last = row.chainage_m
    return last


def entry_line(
    rows: Sequence[RowStanding],
    mesh_edge_m: Decimal | None,
    withdrawn_from_m: Sequence[Decimal] = (),
    *,
    cured: bool,
) -> Decimal | None:
    """Find the entry line of a round.

    Parameters
    ----------
    rows : sequence of RowStanding
        In order to the face. [m]
    mesh_edge_m : Decimal or None
        Chainage of the last edge of mesh held by plates; None where the class has no mesh or
        nobody measured it. [m]
    withdrawn_from_m : sequence of Decimal
        Chainages from which events and notices withdraw entry. [m]
    cured : bool
        Whether all that has to cure has. [-]

    Returns
    -------
    Decimal or None
        The least of all; None where entry ends before the first row. [m]

    Source
    ------
    Common practice, no source: the strictest wins.
    """
    line = rows_complete_to(rows) if cured else None
    if line is None:
        return None
    return min([line, *([] if mesh_edge_m is None else [mesh_edge_m]), *withdrawn_from_m])
