"""How a new tablet and the office come to know each other: a request, and its answer.

Both are small enough for a square code on a screen, and are files all the same. Neither makes
anybody believed: that a tablet is enrolled stands in the records of trust alone.
"""

from dataclasses import dataclass
from typing import Annotated, Final, Self, TypeVar

from pydantic import Field, ValidationError

from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import PublicKey, TabletId
from schemas.signatures import SigningKey
from schemas.trouble import BadInput
from sync.segment import tablet_id
from sync.signed_file import SignedFile

LONGEST: Final = 2000
"""Bytes of either; more would not fit into a square code."""

_Paper = TypeVar("_Paper", "PairingRequest", "PairingAnswer")


@dataclass(eq=False)
class NoPairing(BadInput):
    """What was read is no request and no answer, or somebody changed it."""

    source: str
    what: str
    reason: str
    happened = "{source} is no {what}: {reason}."
    kept = "Nothing was changed; nobody is believed who was not before."
    do_next = "Have it made anew and read it again."


class PairingRequest(SignedFile):
    """A new tablet says by which key it goes; signed by that key."""

    purpose = "lastrow pairing request 1"

    pairing: Annotated[str, Field(pattern="^request$")] = "request"
    tablet: TabletId
    public_key: PublicKey

    @classmethod
    def of_key(cls, key: SigningKey) -> Self:
        """Write the request of a tablet that goes by this key."""
        return cls(tablet=tablet_id(key.public_key), public_key=key.public_key).signed(key)

    def is_genuine(self) -> bool:
        """Whether the key that it names signed it, and the id is the key's."""
        return self.tablet == tablet_id(self.public_key) and self.is_signed_by(self.public_key)


class PairingAnswer(SignedFile):
    """The office says to which share a tablet belongs; signed by the site's root key.

    Whoever reads it makes sure by the check number that the root key is their site's.
    """

    purpose = "lastrow pairing answer 1"

    pairing: Annotated[str, Field(pattern="^answer$")] = "answer"
    tablet: TabletId
    thing: Annotated[str, Field(pattern="^[0-9a-f-]{36}$")]
    """Id under which the site states this tablet."""
    store: Annotated[str, Field(pattern="^[0-9a-f-]{36}$")]
    mine: Annotated[str, Field(min_length=1, max_length=60)]
    demo: bool = False
    root_keys: Annotated[tuple[PublicKey, ...], Field(min_length=1, max_length=4)]

    @property
    def root_key(self) -> str:
        """The site's root key, by which it is signed."""
        return self.root_keys[0]

    def is_genuine(self) -> bool:
        """Whether the first of the root keys that it names signed it."""
        return self.is_signed_by(self.root_key)


def read_request(content: bytes, *, source: str) -> PairingRequest:
    """Read what a tablet asks.

    Raises
    ------
    NoPairing
        It is torn, something else, or not signed by the key that it names.
    """
    return _read(PairingRequest, content, source, "request of a tablet")


def read_answer(content: bytes, *, source: str) -> PairingAnswer:
    """Read what the office answers.

    Raises
    ------
    NoPairing
        It is torn, something else, or not signed by the root key that it names.
    """
    return _read(PairingAnswer, content, source, "answer of the office")


def _read(model: type[_Paper], content: bytes, source: str, what: str) -> _Paper:
    if len(content) > LONGEST:
        raise NoPairing(source, what, "it is too long")
    try:
        found = model.model_validate(parse_json(content, source=source))
    except (Unreadable, ValidationError) as error:
        raise NoPairing(source, what, "it can't be read as one") from error
    if not found.is_genuine():
        raise NoPairing(source, what, "its signature does not fit")
    return found
