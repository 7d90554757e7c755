"""Where the face is after a round: never outbye of where it was known, unless somebody said why.

Metres that were fired are there until somebody looks: a reading from the wrong row, or a row too
few, would otherwise turn ground without a bolt into ground that nobody fired. What the tablet
asks, what the check judges and where the heading's face stands afterwards all start from here.
"""

from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.readings import face_readings, last_row_m
from schemas.bodies.round import Round

READINGS = 3
"""Left, middle and right: with fewer the face is not wholly read."""


@dataclass(frozen=True)
class NearerFace:
    """A face read outbye of where it was known to be, by more than can be left unsaid."""

    known_m: Decimal
    read_m: Decimal
    why: str | None
    """None: nobody has said, or what was said doesn't account for all of it."""


def face_read_m(seen: Round) -> Decimal | None:
    """Give the chainage at which a round read the face.

    Parameters
    ----------
    seen : Round
        Its rows and its readings to the face. [m]

    Returns
    -------
    Decimal or None
        The last row and the largest reading; None where nobody read one. [m]

    Source
    ------
    Common practice, no source: the largest of a ragged face governs.
    """
    readings = face_readings(seen).values()
    if not readings:
        return None
    return last_row_m(seen) + max(it.value_m for it in readings)


def face_after_m(seen: Round, known_m: Decimal) -> Decimal:
    """Give where the face is known to be after a round.

    Parameters
    ----------
    seen : Round
        What was read, and why the face is nearer than it was known to be, where that was said. [m]
    known_m : Decimal
        Where the face was known to be before it. [m]

    Returns
    -------
    Decimal
        As read where that is inbye; otherwise as known, less what the reason given accounts for.
        [m]

    Source
    ------
    Common practice, no source: what is not known is taken as farther inbye.
    """
    read_m = face_read_m(seen)
    if read_m is None:
        return known_m
    return max(read_m, known_m - _accounted_m(seen, read_m))


def nearer_face(seen: Round, at_most_m: Decimal) -> NearerFace | None:
    """Find a face that was read outbye of where it was known to be, too far for the last row.

    Parameters
    ----------
    seen : Round
        Rows and face, where the face was known to be, and the reason given. [m]
    at_most_m : Decimal
        How far the face may stand from the last row: a face known no farther away needs no
        reason. [m]

    Returns
    -------
    NearerFace or None
        What somebody has to say a reason for, also once it was said; None until the face is
        wholly read. [m]

    Source
    ------
    Common practice, no source.
    """
    read_m, known_m = face_read_m(seen), seen.face_known_m if seen.over is None else None
    if read_m is None or known_m is None or len(face_readings(seen)) < READINGS:
        return None
    reach_m = max(read_m, last_row_m(seen) + at_most_m)
    if known_m <= reach_m:
        return None
    said = seen.face_nearer if face_after_m(seen, known_m) <= reach_m else None
    return NearerFace(known_m, read_m, said.why if said else None)


def _accounted_m(seen: Round, read_m: Decimal) -> Decimal:
    """Give the metres that the reason accounts for; it was given for one reading alone."""
    said = seen.face_nearer
    if said is None or said.read_m != read_m:
        return Decimal(0)
    return max(Decimal(0), said.known_m - said.read_m)
