"""Whether the face was scaled and supported as required."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def face_made_safe(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it as it was answered.

    Parameters
    ----------
    seen : Seen
        The answer about the face. [-]
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
    safe = seen.round.face.scaled_and_supported
    face = Place(words="the face")
    breaches = [Breach(face, "scale the face and support it as required")] if safe is False else []
    check = Check(
        "face_made_safe", "scaled, and supported as required", "looked from the last row"
    )
    return answered(check, demanded, breaches, [face] if safe is None else [])
