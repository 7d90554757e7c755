"""Whether it was barred down before bolting and again after it."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded

NOBODY = "nobody"
"""The answer to "by whom" that means it was not done."""


def barring_down(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it: by whom and when before bolting, and again after it.

    Parameters
    ----------
    seen : Seen
        The answers about barring down. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding. [-]

    Source
    ------
    Common practice, no source.
    """
    barring = seen.round.barring
    before, after = Place(words="barring down before bolting"), Place(words="after bolting")
    breaches = []
    if barring.before_by is not None and barring.before_by.casefold() == NOBODY:
        breaches.append(Breach(before, "bar down from supported ground before anything else"))
    if barring.after_bolting is False:
        breaches.append(Breach(after, "bar down again after bolting"))
    unseen = [] if barring.before_by and barring.before_when else [before]
    unseen += [after] if barring.after_bolting is None else []
    check = Check("barring_down", "by whom, when, and again after bolting", "told by the crew")
    return answered(check, demanded, breaches, unseen)
