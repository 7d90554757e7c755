"""Damage as somebody sees it on a walk, and what the demo's standard says of it."""

from datetime import UTC, datetime, timedelta
from typing import Any

from fieldapp.assess.damage import Observation, Ranked, priority
from schemas.bodies.damage import Damage
from schemas.bodies.rehab import Rehab
from schemas.standard import Standard
from tests.standards import D1, changed

SEEN = datetime(2031, 5, 6, 9, tzinfo=UTC)
STANDARD = changed(lambda document: document)
DECLINE = STANDARD.classes[D1]
"""Pitch 100 mm, wire 5.6 mm: one clear opening is 94.4 mm."""


def damage(days: int = 0, /, **said: Any) -> Damage:
    """Give a torn mesh in the right shoulder, seen so many days later, and what else is said."""
    body = {
        "heading": "heading",
        "seen_at": SEEN + timedelta(days=days),
        "chainage_m": "1350.4",
        "zone": "right shoulder",
        "kind": "plate gone",
        "severity": "S3",
        "exposure": "E3",
    }
    return Damage.model_validate(body | said)


def seen(days: int = 0, /, **said: Any) -> Observation:
    return Observation(f"seen-{days}", damage(days, **said))


def decided(days: int, priority: str, because: str) -> Observation:
    """Give what a geotechnical engineer decided on it."""
    said = {"priority": priority, "because": because}
    return Observation(f"seen-{days}", damage(days, decided=said), by_engineer=True)


def mm(value: object, how: str = "tape", u95: object = None) -> dict[str, Any]:
    read: dict[str, Any] = {"value_mm": str(value), "how": how}
    return read if u95 is None else read | {"u95_mm": str(u95)}


def ranked(
    *observations: Observation, days: int = 0, standard: Standard | None = STANDARD
) -> Ranked:
    """Rank a damage in the demo's decline, so many days after it was first seen."""
    return priority(observations, standard, DECLINE, SEEN + timedelta(days=days))


def repair(**said: Any) -> Rehab:
    """Give a repair of that damage, finished a week later and verified."""
    body = {
        "heading": "heading",
        "damages": ["seen-0"],
        "from_m": "1349",
        "to_m": "1353",
        "state": "verified",
        "outcome": "restored",
        "finished_at": SEEN + timedelta(days=7),
        "covers": ["seen-0"],
    }
    return Rehab.model_validate(body | said)
