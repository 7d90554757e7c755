"""Whether the ground is as expected, and who was told if it is not."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.bodies.round import GroundSeen
from schemas.findings import Finding, Place, Verdict
from schemas.limits import Demanded, GroundLimit, Trigger

STOP = "stop and wait"
"""The answer that lets nothing go on."""


def ground_condition(seen: Seen, demanded: GroundLimit) -> tuple[Finding, ...]:
    """Judge it: what is not as expected waits for the person whom the standard names.

    Parameters
    ----------
    seen : Seen
        The answer about the ground. [-]
    demanded : GroundLimit
        Triggers, and whom to call. [-]

    Returns
    -------
    tuple of Finding
        Accept where the ground is as expected, or the answer lets it go on. [-]

    Source
    ------
    Common practice, no source.
    """
    check = Check(
        "ground_condition", "the ground against what was expected", "looked and listened"
    )
    ground = seen.round.ground
    if ground is None:
        return _not_looked_at(check, demanded)
    if ground.condition == "as expected":
        return answered(check, demanded, [], [])
    trigger = next((t for t in demanded.triggers if t.condition == ground.condition), None)
    return answered(check, trigger or demanded, _breaches(ground, trigger), [])


def _breaches(ground: GroundSeen, trigger: Trigger | None) -> list[Breach]:
    place = Place(words=f"the ground: {ground.condition}")
    if trigger is None:
        return [Breach(place, "tell the geotechnical engineer of the ground, wait for an answer")]
    called = ground.called
    if called is None or not (called.who.strip() and called.answer.strip()):
        return [Breach(place, f"call {trigger.call}: {ground.condition}")]
    if trigger.after_the_call == "accept" and called.answer.strip().casefold() != STOP:
        return []
    stands = trigger.breach if trigger.after_the_call == "accept" else trigger.after_the_call
    return [Breach(place, f"as {called.who} said: {called.answer}", stands)]


def _not_looked_at(check: Check, demanded: GroundLimit) -> tuple[Finding, ...]:
    """Hold entry at the gravest that the ground could turn out to mean."""
    every: list[Demanded] = [demanded, *demanded.triggers]
    gravest = max(every, key=lambda one: Verdict(one.breach).gravity)
    return answered(check, gravest, [], [Place(words="the ground")])
