"""Readings of a test that bolt, wrench or gauge can hardly mean: they are read again.

Nothing is judged by it: who reads them again and finds them so keeps them.
"""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Final

from fieldapp.assess.bolt_tests.judged import torque_rule
from schemas.bodies.bolt_test import BoltTest, PullReading
from schemas.numbers import text
from schemas.standard import Standard

OUT_OF_REASON: Final = Decimal("1.5")
"""Times the greatest torque of the standard. Common practice, no source."""
GAUGE_MM: Final = Decimal("0.3")
"""How far two readings of one gauge may differ by themselves. Common practice, no source."""
LET_GO: Final = Decimal("0.9")
FAR_MM: Final = Decimal(2)
"""A load that fell below this share while the head came so far: something gave. Common practice,
no source."""


def out_of_reason(test: BoltTest, standard: Standard | None) -> Iterator[str]:
    """Name the readings that are out of reason.

    Parameters
    ----------
    test : BoltTest
        As it was read. [kN, mm, N·m]
    standard : Standard or None
        By which it is made: its torques; without one no torque is out of reason. [N·m]

    Returns
    -------
    iterator of str
        A torque far above every one of the standard; a first reading that is not 0; a head that
        went back while the load did not fall; a load that fell while the head came on, where
        nothing is said to have given. [-]

    Source
    ------
    Common practice, no source.
    """
    if test.kind == "torque" and standard is not None:
        yield from _torque(test, standard)
    if test.pulled and test.pulled[0].displacement_mm > GAUGE_MM:
        first = text(test.pulled[0].displacement_mm)
        yield f"the first reading is {first} mm, and all are counted from 0: take that off each"
    for before, after in pairwise(test.pulled):
        yield from _pulled(before, after, gave=test.broke not in (None, "nothing"))


def _torque(test: BoltTest, standard: Standard) -> Iterator[str]:
    known = tuple(_torques(standard, test.bolt_type))
    if test.torque_nm is None or not known:
        return
    most = max(known)
    if test.torque_nm > OUT_OF_REASON * most:
        read = f"{text(test.torque_nm)} N·m is far above {text(most)} N·m"
        yield f"{read}, the greatest that the standard gives {test.bolt_type}: read it again"


def _torques(standard: Standard, bolt_type: str | None) -> Iterator[Decimal]:
    """Yield every torque that the standard states of a bolt type."""
    for known in standard.classes:
        limit = known.limits.torque
        if limit is not None and any(it.code == bolt_type for it in known.bolts):
            yield limit.at_most_nm
    rule = torque_rule(standard, bolt_type)
    if rule is not None:
        yield rule.at_least_nm


def _pulled(before: PullReading, after: PullReading, *, gave: bool) -> Iterator[str]:
    came = after.displacement_mm - before.displacement_mm
    if after.load_kn >= before.load_kn and -came > GAUGE_MM:
        yield f"the head went back {_from_to((before, after))}: read it again"
    fell = after.load_kn < LET_GO * before.load_kn
    if fell and came > FAR_MM and not gave:
        yield f"the load fell and the head came on {_from_to((before, after))}: read it again"


def _from_to(readings: Sequence[PullReading]) -> str:
    said = (f"{text(it.displacement_mm)} mm at {text(it.load_kn)} kN" for it in readings)
    return f"from {' to '.join(said)}"
