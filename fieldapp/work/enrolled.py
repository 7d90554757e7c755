"""Who was enrolled in which roles when something was stated, by the site's own certificates.

On a tablet that belongs to a share, an enrolment is true only where it stands in the site's
records of trust: a certificate that is said again by somebody else brings nobody back.

Everybody who was ever enrolled is here, also whose enrolment has ended: what they stated
before still counts. An enrolment that ended once has ended: an older entry, said again, doesn't
bring it back.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from pydantic import ValidationError

from schemas.bodies.person import Person, Role
from schemas.entry import Entry
from schemas.logical_clock import LogicalTime
from schemas.signatures import Certificate
from sync.ledger import Ledger


@dataclass(frozen=True)
class Enrolment:
    """One entry about a person that the site's key stands behind."""

    entry: Entry
    body: Person


@dataclass(frozen=True)
class Roster:
    """Every certified enrolment, oldest first."""

    enrolments: tuple[Enrolment, ...]

    def of(self, person_id: str) -> tuple[Enrolment, ...]:
        """Give every certified enrolment of one person, oldest first."""
        return tuple(it for it in self.enrolments if it.entry.id == person_id)

    def newest(self) -> tuple[Enrolment, ...]:
        """Give the last certified enrolment of everybody, in the order of their enrolling."""
        newest: dict[str, Enrolment] = {}
        for it in self.enrolments:
            newest[it.entry.id] = it
        return tuple(newest.values())

    def keys(self, person_id: str) -> frozenset[str]:
        """Give every key that the site ever certified as a person's, on whichever tablet."""
        return frozenset(it.body.public_key for it in self.of(person_id))

    def ended_at(self, person_id: str) -> LogicalTime | None:
        """Give when a person's enrolment ended; None while it lasts."""
        ends = (it.entry.clock for it in self.of(person_id) if it.body.revoked)
        return min(ends, default=None)

    def roles(self, entry: Entry) -> tuple[Role, ...]:
        """Give the roles in which the author stated an entry; none for who was not enrolled."""
        known = self.of(entry.author)
        ended = self.ended_at(entry.author)
        if not known or (ended is not None and entry.clock > ended):
            return ()
        before = [it for it in known if it.entry.clock <= entry.clock]
        return (before or [known[0]])[-1].body.roles


def roster_of(ledger: Ledger, site_key: str) -> Roster:
    """Read every enrolment that this site's key stands behind."""
    by_site = ledger.stated_by_site()
    stated = (it for it in ledger.of_kind("person") if by_site is None or it.revision in by_site)
    return Roster(tuple(_certified(stated, site_key)))


def certified_before(ledger: Ledger, site_key: str) -> Roster:
    """Read who was enrolled before there were records of trust: a certificate was enough."""
    return Roster(tuple(_certified(ledger.of_kind("person"), site_key)))


def is_certified(site_key: str, person_id: str, person: Person) -> bool:
    """Tell whether the site's key says that this key and these roles are this person's."""
    named = (person_id, person.public_key, person.roles, person.certificate)
    return _is_certified(site_key, *named)


def _certified(stated: Iterable[Entry], site_key: str) -> Iterator[Enrolment]:
    for entry in sorted(stated, key=lambda entry: (entry.clock, entry.revision)):
        try:
            body = Person.model_validate(dict(entry.body))
        except ValidationError:
            continue
        if is_certified(site_key, entry.id, body):
            yield Enrolment(entry, body)


@lru_cache(maxsize=1024)
def _is_certified(
    site_key: str, person_id: str, public_key: str, roles: tuple[str, ...], signature: str
) -> bool:
    certificate = Certificate(
        holder=person_id,
        public_key=public_key,
        roles=roles,
        site_key=site_key,
        signature=signature,
    )
    return certificate.is_from(site_key)
