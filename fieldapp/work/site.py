"""What every job is given: the mine, the store, the clock, the settings. No globals."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from fieldapp.store import Store
from fieldapp.work.share_passwords import SharePasswords
from schemas.bodies.person import Role
from schemas.part import Own
from schemas.settings import Settings

if TYPE_CHECKING:
    from sync.ledger import Ledger

Clock = Callable[[], datetime]
Chance = Callable[[int], bytes]


class Mine(Own):
    """Whose records these are. Kept beside the ledger, written once."""

    name: str
    demo: bool
    site_key: str
    """Public half of the site's root key: who is enrolled is signed with it."""
    tablet: str
    """Id of this tablet."""


class Records(Protocol):
    """What is kept, as far as whoever only looks needs it."""

    @property
    def ledger(self) -> "Ledger":
        """The entries."""


@dataclass(frozen=True)
class Sight:
    """The mine's records to look at, be they a tablet's or all tablets' in an office."""

    mine: Mine
    store: Records
    settings: Settings


@dataclass(frozen=True)
class Timed(Sight):
    """The mine's records, and the time for which they are asked."""

    now: Clock


@dataclass(frozen=True)
class Site(Timed):
    """The mine's records on this tablet, opened."""

    folder: Path
    store: Store
    chance: Chance
    password: SharePasswords = field(default_factory=SharePasswords)
    """Gives the password for a share on a server that is not mounted."""

    def with_settings(self, settings: Settings) -> "Site":
        """Give the site under other settings."""
        return replace(self, settings=settings)


@dataclass(frozen=True)
class Session:
    """Somebody signed in: the person, the role in which they act, and when they last touched."""

    person_id: str
    name: str
    roles: tuple[Role, ...]

    def has(self, *roles: Role) -> bool:
        """Whether this person has one of the roles."""
        return any(role in self.roles for role in roles)
