"""Whether the bolts are of the type and length of their zone."""

from collections.abc import Iterator

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.rows_judged import job
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def bolt_type(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge them by the pack label, or by what the bolter told.

    Parameters
    ----------
    seen : Seen
        The bolter's words, and bolts marked by themselves. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding; the round where all are wrong, else a place a bolt. [-]

    Source
    ------
    Common practice, no source.
    """
    bolter = seen.round.bolter
    named = bolter.bolt_type is not None and bolter.bolt_length_m is not None
    unseen = (
        [] if named and bolter.basis is not None else [Place(words="type and length of bolts")]
    )
    how = f"{bolter.bolt_type or 'bolts'}, {bolter.bolt_length_m or '?'} m"
    check = Check("bolt_type", how if named else "type and length", bolter.basis or "")
    return answered(check, demanded, list(_breaches(seen)), unseen)


def _breaches(seen: Seen) -> Iterator[Breach]:
    bolts = [bolt for row in seen.rows for bolt in row.bolts.positions]
    wrong = [bolt for bolt in bolts if _why(bolt)]
    if len(wrong) == len(bolts):
        code = seen.round.bolter.bolt_type
        words = f"the whole round: {code}, {_why(wrong[0])}"
        yield Breach(Place(words=words), "bolt the round again with bolts of this class")
        return
    for bolt in wrong:
        place = bolt.place.model_copy(update={"words": f"{bolt.place.words}: {_why(bolt)}"})
        yield Breach(place, job(bolt))


def _why(bolt: Bolt) -> str:
    kinds = ("not a bolt of this class", "not a bolt for this zone", "too short")
    return ", ".join(fault for fault in bolt.faults if fault in kinds)
