"""Damage that somebody has found, for stories that begin with it."""

from schemas.bodies.damage import Damage
from tests.ui.mine import Hands

OPEN = "4180 Main"
AT_M = "590.4"


def a_tear(hands: Hands, heading: str = OPEN, at_m: str = AT_M) -> Damage:
    """Give mesh torn over a travelway: P2 by the demo's table."""
    return Damage.model_validate(
        {
            "heading": hands.heading_id(heading),
            "seen_at": hands.clock(),
            "chainage_m": at_m,
            "zone": "right shoulder",
            "kind": "torn mesh",
            "severity": "S3",
            "exposure": "E3",
            "extent": {"openings": 6, "above_floor": {"value_m": "2.4", "how": "tape"}},
        }
    )
