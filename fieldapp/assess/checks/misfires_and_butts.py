"""Whether misfires and butts were looked for, and none found."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def misfires_and_butts(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it as it was answered.

    Parameters
    ----------
    seen : Seen
        The answer about misfires and butts. [-]
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
    found = seen.round.face.misfires_and_butts
    face = Place(words="the face")
    job = "keep away, have the misfires and butts dealt with"
    breaches = [Breach(face, job)] if found == "found" else []
    check = Check("misfires_and_butts", "looked for in a washed face", "looked from the last row")
    return answered(check, demanded, breaches, [face] if found is None else [])
