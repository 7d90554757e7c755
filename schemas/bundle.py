"""Everything that an assessment needs, in one file, and nothing else."""

from pydantic import AwareDatetime, Field

from schemas.bodies.deviation import Deviation
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.part import Part
from schemas.standard import Standard


class Bundle(Part):
    """A round, the standard it is judged by, the round before, and the time of judging."""

    heading: Heading
    """As it was entered: its face and its last row are where they were then."""
    standard: Standard
    standard_line: str | None = Field(default=None, max_length=4_000_000)
    """The line of the standard's entry as it was written: its SHA-256 is the revision that the
    round names. None: it isn't told, and nobody can compare."""
    previous_round: Round | None = None
    previous_standard: Standard | None = None
    """The revision that the round before was judged by, where it is another: its last rows are
    looked for as that demanded them. None: it is the same, or nobody knows it."""
    round_id: str | None = None
    """Id of the round, which its deviations name."""
    round: Round
    as_at: AwareDatetime
    shaken_by: tuple[Event, ...] = ()
    """What shook the heading by then and nobody had inspected after: there nobody knows what
    the support still carries."""
    deviations: tuple[Deviation, ...] = ()
    """Granted for the round of that id, no other; `assess` says which findings they cover, never
    for the last row to the face nor for two neighbouring bolts."""
