"""Everything that an assessment needs, in one file, and nothing else."""

from pydantic import AwareDatetime

from schemas.bodies.deviation import Deviation
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.part import Part
from schemas.standard import Standard


class Bundle(Part):
    """A round, the standard it is judged by, the round before, and the time of judging."""

    heading: Heading
    standard: Standard
    previous_round: Round | None = None
    round: Round
    as_at: AwareDatetime
    deviations: tuple[Deviation, ...] = ()
    """Granted for this round; `assess` says which findings they cover, never for the last row
    to the face nor for two neighbouring bolts."""
