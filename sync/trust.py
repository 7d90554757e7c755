"""The site's row of numbered records that say who is believed: people and tablets.

Each record names the one before it and is signed by the site's root key. Enrolment is true
only here: an entry that says that somebody is enrolled is believed when it stands in a
record. A tablet keeps the highest number that it has seen; a share that shows less has been
set back. Whoever is revoked is cut at a position in their tablet's row of segments, never at
a time: a thief sets clocks.

Two records of one number are rivals: an office was restored from a copy, and went on from there.
Both bear the site's signature, so both are kept. Until the records keeper settles it by a record
that names the other, the stricter counts: whom either revokes is revoked, a tablet that either
enrols is heard, since what it states may be a no entry, and people have the roles that both give
them. The order in which records arrive means nothing.

Whoever holds newer records back hides a revocation. Nobody can forge a newer one, so each says
when the office made it: one that is old is told to people (`fieldapp.work.enrol.renewing`).
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Annotated, Literal, TypeVar

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import PublicKey, Sha256, ShortHash, TabletId
from schemas.signatures import SigningKey
from schemas.trouble import BadInput
from sync.names import TrustName, short_hash
from sync.signed_file import SignedFile

FIRST_PREVIOUS = "0" * 64
AnAct = TypeVar("AnAct", bound="Act")
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


class Settle(Act):
    """The records keeper has looked at rivals: what this record follows and says stands."""

    act: Literal["settle"] = "settle"
    rivals: Annotated[tuple[Sha256, ...], Field(min_length=1, max_length=1000)]
    """SHA-256 of the last record of each row that is given up."""


KnownAct = EnrolTablet | RevokeTablet | State | Renew | Settle
ACTS: dict[str, type[KnownAct]] = {
    "enrol tablet": EnrolTablet,
    "revoke tablet": RevokeTablet,
    "state": State,
    "renew": Renew,
    "settle": Settle,
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
class Taken:
    """A record that was taken in."""

    name: TrustName
    sha256: str
    prev: str
    acts: tuple[KnownAct, ...]

    @property
    def lines(self) -> Iterator[str]:
        """The entries that it states."""
        return (it.line for it in self.acts if isinstance(it, State))


@dataclass(frozen=True)
class Trust:
    """Who is believed, as the records that were taken in have it."""

    store: str
    root_keys: tuple[str, ...]
    records: tuple[Taken, ...] = ()
    """In the order of their numbers, rivals in that of their hashes."""

    @cached_property
    def number(self) -> int:
        """The highest number; 0 before the first record."""
        return max((it.name.number for it in self.records), default=0)

    @cached_property
    def branches(self) -> tuple[Taken, ...]:
        """The last record of each row that goes on, the one that is followed next first."""
        followed = {it.prev for it in self.records}
        settled = {it for act in self._acts(self.records, Settle) for it in act.rivals}
        going_on = (it for it in self.records if it.sha256 not in followed | settled)
        return tuple(sorted(going_on, key=lambda it: (-it.name.number, it.name.hash16)))

    @cached_property
    def last(self) -> str:
        """SHA-256 of the record that the next one follows."""
        return self.branches[0].sha256 if self.branches else FIRST_PREVIOUS

    @cached_property
    def disputed(self) -> tuple[Taken, ...]:
        """The records in which rivals go apart; none where there are no rivals."""
        said = (sum(it.sha256 in row for row in self._rows) for it in self.records)
        some = range(1, len(self._rows))
        return tuple(it for it, count in zip(self.records, said, strict=True) if count in some)

    @cached_property
    def tablets(self) -> Mapping[str, EnrolTablet]:
        """Those that are enrolled, by any of rivals."""
        heard = frozenset[str]().union(*self._rows)
        acts = self._acts((it for it in self.records if it.sha256 in heard), EnrolTablet)
        return {act.tablet: act for act in acts}

    @cached_property
    def cuts(self) -> Mapping[str, int]:
        """By tablet: the last segment that is believed."""
        return {tablet: act.valid_through for tablet, act in self._earliest.items()}

    @cached_property
    def ends(self) -> Mapping[str, str]:
        """By tablet: the short hash of that segment, where the record names it."""
        named = ((tablet, it.valid_through_hash16) for tablet, it in self._earliest.items())
        return {tablet: hash16 for tablet, hash16 in named if hash16 is not None}

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The entries that the site states: of rivals what all state, and every revocation."""
        by_row = [
            {line for it in self.records if it.sha256 in row for line in it.lines}
            for row in self._rows
        ]
        stated = dict.fromkeys(line for it in self.records for line in it.lines)
        return tuple(it for it in stated if all(it in row for row in by_row) or revokes(it))

    @cached_property
    def renewed_at(self) -> datetime | None:
        """When the office made the last record that says so; not every version says it."""
        renewed = [it.at for it in self._acts(self.records, Renew)]
        return renewed[-1] if renewed else None

    @cached_property
    def _earliest(self) -> Mapping[str, RevokeTablet]:
        found: dict[str, RevokeTablet] = {}
        for act in self._acts(self.records, RevokeTablet):
            before = found.setdefault(act.tablet, act)
            if act.valid_through < before.valid_through:
                found[act.tablet] = act
        return found

    @staticmethod
    def _acts(records: Iterable[Taken], of_kind: type[AnAct]) -> Iterator[AnAct]:
        return (act for it in records for act in it.acts if isinstance(act, of_kind))

    @cached_property
    def _rows(self) -> tuple[frozenset[str], ...]:
        """For each branch the SHA-256 of all its records."""
        before = {it.sha256: it.prev for it in self.records}

        def row_to(sha256: str) -> Iterator[str]:
            while sha256 in before:
                yield sha256
                sha256 = before[sha256]

        return tuple(frozenset(row_to(it.sha256)) for it in self.branches)

    def believes(self, tablet: str, seq: int) -> bool:
        """Whether a segment at this place of a tablet's row counts."""
        return tablet in self.tablets and seq <= self.cuts.get(tablet, seq)

    def with_record(self, name: str, content: bytes) -> tuple["Trust", tuple[bytes, ...]]:
        """Take one more record in; give who is believed then, and the lines that it states.

        Raises
        ------
        BrokenTrust
            It is torn, forged, another share's, here already, or follows nothing that is here.
        """
        record = _read(name, content)
        sha256 = hashlib.sha256(content).hexdigest()
        reason = self._refusal(record, sha256)
        if reason:
            raise BrokenTrust(name, reason)
        named = TrustName(record.number, sha256[:16])
        taken = Taken(named, sha256, record.prev, _acts(name, record))
        records = sorted((*self.records, taken), key=lambda it: it.name)
        after = Trust(self.store, self.root_keys, tuple(records))
        return after, tuple(it.encode() for it in taken.lines)

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

    def _refusal(self, record: Record, sha256: str) -> str | None:
        if record.store != self.store:
            return "it is another share's"
        if not record.is_signed_by_one_of(self.root_keys):
            return "no root key of the site signed it"
        if any(it.sha256 == sha256 for it in self.records):
            return "it was taken in before"
        if record.number > self.number + 1:
            return f"record {self.number + 1} comes next"
        followed = {it.sha256: it.name.number for it in self.records} | {FIRST_PREVIOUS: 0}
        if followed.get(record.prev) != record.number - 1:
            return "it does not follow the record before it"
        return None


def revokes(line: str) -> bool:
    """Whether an entry that the site states ends somebody's enrolment."""
    try:
        entry = parse_json(line.encode(), source="a record of trust")
    except Unreadable:
        return False
    body = entry.get("body") if isinstance(entry, dict) else None
    return isinstance(body, dict) and body.get("revoked") is True


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
