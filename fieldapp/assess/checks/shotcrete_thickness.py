"""The least thickness of the shotcrete."""

from decimal import Decimal

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.readings import PROBES
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import AtLeastMillimetres
from schemas.numbers import STEP_MM


def shotcrete_thickness(seen: Seen, demanded: AtLeastMillimetres) -> tuple[Finding, ...]:
    """Judge it: the thinnest probe governs.

    Parameters
    ----------
    seen : Seen
        Probes. [mm]
    demanded : AtLeastMillimetres
        The bound. [mm]

    Returns
    -------
    tuple of Finding
        The thinnest. [mm]

    Source
    ------
    Common practice, no source.
    """
    probes = enumerate(seen.round.shotcrete.thickness_mm, start=1)
    readings = [_probe(seen, number, thickness) for number, thickness in probes]
    missing = range(len(readings) + 1, PROBES + 1)
    unseen = [Place(words=f"thickness at probe {number}") for number in missing]
    check = Check("shotcrete_thickness", "at probes", "probed")
    return measured(check, demanded, readings, unseen, STEP_MM)


def _probe(seen: Seen, number: int, thickness_mm: Decimal) -> Reading:
    return Reading(
        value=thickness_mm,
        u=seen.doubts_m["tape"] * 1000,
        place=lambda: Place(words=f"probe {number}"),
        again=True,  # there is no better method than a probe
        fix=lambda: f"spray again where probe {number} is thin",
    )
