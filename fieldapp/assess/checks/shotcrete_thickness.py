"""The least thickness of the shotcrete."""

from fieldapp.assess.judge import Check, Reading, measured
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
    u = seen.doubt_m("tape") * 1000
    readings = [
        Reading(
            value=thickness,
            u=u,
            place=Place(words=f"probe {number}"),
            again=True,  # there is no better method than a probe
            fix=f"spray again where probe {number} is thin",
        )
        for number, thickness in enumerate(seen.round.shotcrete.thickness_mm, start=1)
    ]
    unseen = [] if readings else [Place(words="thickness of the shotcrete")]
    check = Check("shotcrete_thickness", "at probes", "probed")
    return (measured(check, demanded, readings, unseen, STEP_MM),)
