"""What a recorded round is judged by: a standard, the round before it, and a time."""

from datetime import datetime

from fieldapp.work.deviations import granted_for
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.rounds import round_before, rounds
from fieldapp.work.site import Sight
from schemas.bodies.round import Round
from schemas.bundle import Bundle
from schemas.standard import Standard


def bundle_of(
    site: Sight, seen: Known[Round], standard: Known[Standard], as_at: datetime
) -> Bundle:
    """Give everything that an assessment of a recorded round needs."""
    before = round_before(rounds(site, seen.body.heading), seen.id, seen.body.joint_m)
    return Bundle(
        heading=heading(site, seen.body.heading).body,
        standard=standard.body,
        standard_line=standard.entry.line.decode(),
        previous_round=before.body if before else None,
        round_id=seen.id,
        round=seen.body,
        as_at=as_at,
        deviations=granted_for(site, seen.id),
    )
