"""The site's row of numbered records that say who is believed: people and tablets.

Each record names the one before it and is signed by the site's root key. Enrolment is true
only here: an entry that says that somebody is enrolled is believed when it stands in a
record. A tablet keeps the highest number that it has seen; a share that shows less has been
set back. Whoever is revoked is cut at a position in their tablet's row of segments, never at
a time: a thief sets clocks.

Whoever holds newer records back hides a revocation. Nobody can forge a newer one, so each says
when the office made it: one that is old is told to people (`fieldapp.work.renewing`).
"""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Annotated, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import PublicKey, Sha256, ShortHash, TabletId
from schemas.signatures import SigningKey
from schemas.trouble import BadInput
from sync.names import TrustName, short_hash
from sync.signed_file import SignedFile

FIRST_PREVIOUS = "0" * 64
LONGEST = 1024 * 1024


@dataclass(eq=False)
class BrokenTrust(BadInput):
    """A record of trust is not what the site's root key signed, or doesn't follow."""

    record: str
    reason: str
    happened = "The record of trust {record} is refused: {reason}."
    kept = "Who was believed before is believed still; nobody else is."
    do_next = "Ask the records keeper to look at the share's folder of trust."


class Act(BaseModel):
    """One thing that a record says; a newer version's acts are kept and do nothing here."""

    model_config = ConfigDict(frozen=True, extra="allow")


class EnrolTablet(Act):
    """From now on a tablet is believed."""

    act: Literal["enrol tablet"] = "enrol tablet"
    tablet: TabletId
    public_key: PublicKey
    name: Annotated[str, Field(min_length=1, max_length=60)]


class RevokeTablet(Act):
    """What a tablet sealed is believed up to a position, and not beyond."""

    act: Literal["revoke tablet"] = "revoke tablet"
    tablet: TabletId
    valid_through: Annotated[int, Field(ge=0, le=99_999_999)]
    """The last segment that is believed; 0 for none."""
    valid_through_hash16: ShortHash | None = None
    """The first digits of its SHA-256: whoever has the key could seal another of that number."""
    reason: Annotated[str, Field(min_length=1, max_length=200)]


class State(Act):
    """These lines are entries that the site states: people enrolled and revoked."""

    act: Literal["state"] = "state"
    line: Annotated[str, Field(min_length=2, max_length=LONGEST)]


class Renew(Act):
    """The office made the record now: nothing older is the newest."""

    act: Literal["renew"] = "renew"
    at: AwareDatetime
    """By the office's clock."""


KnownAct = EnrolTablet | RevokeTablet | State | Renew
ACTS: dict[str, type[KnownAct]] = {
    "enrol tablet": EnrolTablet,
    "revoke tablet": RevokeTablet,
    "state": State,
    "renew": Renew,
}


class Record(SignedFile):
    """One numbered record, as it stands in a file."""

    purpose = "lastrow trust 1"

    store: str
    number: Annotated[int, Field(ge=1, le=999_999)]
    prev: Sha256
    acts: Annotated[tuple[dict[str, object], ...], Field(min_length=1, max_length=1000)]
    root_key: PublicKey

    def is_signed_by_one_of(self, root_keys: Iterable[str]) -> bool:
        """Whether a root key of the site signed it."""
        return self.root_key in root_keys and self.is_signed_by(self.root_key)

    def known_acts(self) -> Iterable[KnownAct]:
        """Yield what this version understands of it."""
        for act in self.acts:
            model = ACTS.get(str(act.get("act")))
            if model is not None:
                yield model.model_validate(act)


@dataclass(frozen=True)
class Trust:
    """Who is believed, as the records up to a number have it."""

    store: str
    root_keys: tuple[str, ...]
    number: int = 0
    last: str = FIRST_PREVIOUS
    """SHA-256 of the last record's bytes."""
    tablets: Mapping[str, EnrolTablet] = field(default_factory=dict)
    cuts: Mapping[str, int] = field(default_factory=dict)
    """By tablet: the last segment that is believed."""
    ends: Mapping[str, str] = field(default_factory=dict)
    """By tablet: the short hash of that segment, where the record names it."""
    renewed_at: datetime | None = None
    """When the office made the last record that says so; not every version says it."""

    def believes(self, tablet: str, seq: int) -> bool:
        """Whether a segment at this place of a tablet's row counts."""
        return tablet in self.tablets and seq <= self.cuts.get(tablet, seq)

    def with_record(self, name: str, content: bytes) -> tuple["Trust", tuple[bytes, ...]]:
        """Take the next record in; give who is believed then, and the lines it states.

        Raises
        ------
        BrokenTrust
            It is torn, forged, another share's, or doesn't follow the last one.
        """
        record = _read(name, content)
        reason = self._refusal(record)
        if reason:
            raise BrokenTrust(name, reason)
        acts = _acts(name, record)
        tablets, cuts, ends = dict(self.tablets), dict(self.cuts), dict(self.ends)
        renewed_at = self.renewed_at
        for act in acts:
            if isinstance(act, EnrolTablet):
                tablets[act.tablet] = act
            elif isinstance(act, RevokeTablet) and act.valid_through < cuts.get(
                act.tablet, act.valid_through + 1
            ):
                cuts[act.tablet] = act.valid_through
                ends.pop(act.tablet, None)
                if act.valid_through_hash16 is not None:
                    ends[act.tablet] = act.valid_through_hash16
            elif isinstance(act, Renew):
                renewed_at = act.at
        last = hashlib.sha256(content).hexdigest()
        known = tablets, cuts, ends, renewed_at
        after = Trust(self.store, self.root_keys, record.number, last, *known)
        return after, tuple(act.line.encode() for act in acts if isinstance(act, State))

    def next_record(self, acts: Sequence[Act], root: SigningKey) -> tuple[TrustName, bytes]:
        """Write the record that comes after the last one."""
        said = tuple(act.model_dump(mode="json") for act in acts)
        record = Record(
            store=self.store,
            number=self.number + 1,
            prev=self.last,
            acts=said,
            root_key=root.public_key,
        ).signed(root)
        content = record.content()
        return TrustName(record.number, short_hash(content)), content

    def _refusal(self, record: Record) -> str | None:
        if record.store != self.store:
            return "it is another share's"
        if not record.is_signed_by_one_of(self.root_keys):
            return "no root key of the site signed it"
        if record.number != self.number + 1:
            return f"record {self.number + 1} comes next"
        if record.prev != self.last:
            return "it does not follow the record before it"
        return None


def _read(name: str, content: bytes) -> Record:
    named = TrustName.of_file(name)
    if named is None or named.hash16 != short_hash(content):
        raise BrokenTrust(name, "its bytes do not fit its name")
    try:
        record = Record.model_validate(parse_json(content, source=name))
    except (Unreadable, ValidationError) as error:
        raise BrokenTrust(name, "it can't be read") from error
    if record.number != named.number:
        raise BrokenTrust(name, "its number is not its name's")
    return record


def _acts(name: str, record: Record) -> tuple[KnownAct, ...]:
    try:
        return tuple(record.known_acts())
    except ValidationError as error:
        raise BrokenTrust(name, "one of its acts can't be read") from error
