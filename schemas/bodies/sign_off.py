"""A person's decision about one round, signed with that person's key."""

from typing import Literal

from pydantic import AwareDatetime

from schemas.bodies.in_heading import InHeading
from schemas.bodies.person import Role
from schemas.identifiers import PublicKey, Signature
from schemas.numbers import Chainage

Decision = Literal["accepted", "sent back", "barricaded"]


class SignOff(InHeading):
    """What was decided about exactly which revision of which round, judged by what."""

    heading: str
    round: str
    round_revision: str
    standard: str
    """Revision hash of the standard judged by."""
    judged_at: AwareDatetime
    """The time of judging: an assessment as at this time has the hash below."""
    assessment: str
    """SHA-256 of the canonical assessment."""
    decision: Decision
    role: Role
    says: str
    """"meets S-2 revision 5 in what was looked at; not seen: …"."""
    states: str
    """"I looked, from supported ground, at what is marked seen. I did not install this round."."""
    entry_line_m: Chainage
    """Where the entry line stands by this decision and nothing else."""
    fix_list: tuple[str, ...] = ()
    deviations: tuple[str, ...] = ()
    shaken_by: tuple[str, ...] = ()
    """Revisions of the events that nobody had inspected after when it was judged."""
    lifts: tuple[str, ...] = ()
    """Ids of own rework that this decision lifts after looking again."""
    public_key: PublicKey
    signature: Signature | None = None
