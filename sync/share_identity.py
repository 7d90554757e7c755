"""`store.json`: which share this is, written once by the office, checked before anything else.

An empty mount point looks like an empty share; a stick may be another mine's. Nothing is
written into a folder whose `store.json` is not the one that this tablet was paired with.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Literal

from pydantic import Field, ValidationError

from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import PublicKey
from schemas.trouble import BadInput, NotAllowed
from sync.folder import Folder, NotThere, NotYet
from sync.names import STORE
from sync.signed_file import SignedFile

FORMAT: Literal[1] = 1
LONGEST = 64 * 1024
KNOWN_FEATURES: frozenset[str] = frozenset()
"""Features of a share that this version knows how to write by."""


@dataclass(eq=False)
class NoShareHere(BadInput):
    """A folder holds no `store.json` that can be read."""

    place: str
    reason: str
    happened = "{place} is no shared folder of Lastrow: {reason}."
    kept = "Nothing was written there; everything is kept on this tablet and waits."
    do_next = "Look whether the folder is there and the right one, then share again."


@dataclass(eq=False)
class AnotherShare(BadInput):
    """The folder belongs to another mine, or was made anew."""

    place: str
    found: str
    expected: str
    happened = "{place} is share {found}, and this tablet belongs to share {expected}."
    kept = "Nothing was written there; everything is kept on this tablet and waits."
    do_next = "Name the right folder; if the office made this one anew, pair this tablet again."


@dataclass(eq=False)
class ShareIsNewer(NotAllowed):
    """Only a newer version may write here."""

    place: str
    features: str
    happened = "{place} asks for features that this version doesn't know: {features}."
    kept = "What others sent was read; what this tablet has to send waits here."
    do_next = "Update the program on this tablet, then share again."


class ShareIdentity(SignedFile):
    """What `store.json` says, signed by the site's root key."""

    purpose = "lastrow store 1"

    store: Annotated[str, Field(pattern=r"^[0-9a-f-]{36}$")]
    mine: Annotated[str, Field(min_length=1, max_length=60)]
    demo: bool = False
    root_keys: Annotated[tuple[PublicKey, ...], Field(min_length=1, max_length=4)]
    writers_need: tuple[str, ...] = ()
    """Features without which nobody may write here."""

    def is_genuine(self) -> bool:
        """Whether one of the root keys that it names signed it."""
        return any(self.is_signed_by(key) for key in self.root_keys)

    def unknown_features(self) -> tuple[str, ...]:
        """Give what a writer has to know here and this version doesn't."""
        newer = (f"format {self.lastrow}",) if self.lastrow != FORMAT else ()
        return (*newer, *sorted(set(self.writers_need) - KNOWN_FEATURES))


def read_share_identity(folder: Folder) -> ShareIdentity:
    """Read which share a folder is.

    Raises
    ------
    NoShareHere
        There is no `store.json`, or it is torn, forged or too large.
    ShareGone
        The folder can't be reached.
    """
    try:
        found, is_genuine = _understood(folder.read(STORE, at_most=LONGEST))
    except (NotThere, NotYet) as error:
        raise NoShareHere(folder.place, "there is no store.json, or not yet") from error
    except (Unreadable, ValidationError) as error:
        raise NoShareHere(folder.place, "its store.json is torn") from error
    if not is_genuine:
        raise NoShareHere(folder.place, "its store.json is signed by none of its root keys")
    return found


@lru_cache(maxsize=4)
def _understood(content: bytes) -> tuple[ShareIdentity, bool]:
    """Read what a file says, and whether it is genuine: the same for the same bytes."""
    found = ShareIdentity.model_validate(parse_json(content, source=STORE))
    return found, found.is_genuine()


def check_share(folder: Folder, expected: str) -> ShareIdentity:
    """Read which share a folder is, and make sure that it is the one this tablet knows.

    Raises
    ------
    AnotherShare
        It is another.
    NoShareHere, ShareGone
        As in `read_share_identity`.
    """
    found = read_share_identity(folder)
    if found.store != expected:
        raise AnotherShare(folder.place, found.store, expected)
    return found
