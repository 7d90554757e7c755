"""The bolter's own check of the round, and the holes given up."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import counted
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def bolter_check(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it as it was answered.

    Parameters
    ----------
    seen : Seen
        The bolter's check. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding; holes given up are named. [-]

    Source
    ------
    Common practice, no source.
    """
    bolter = seen.round.bolter
    own, holes = Place(words="the bolter's own check"), Place(words="holes given up")
    breaches = [Breach(own, "have the bolter check the round")] if bolter.done is False else []
    unseen = [own] if bolter.done is None else []
    unseen += [holes] if bolter.blocked_holes is None else []
    given_up = (
        f"; {counted(bolter.blocked_holes, 'hole')} given up" if bolter.blocked_holes else ""
    )
    check = Check("bolter_check", f"the bolter's own check{given_up}", "told by the bolter")
    return answered(check, demanded, breaches, unseen)
