"""People: enrolling them with the site's key, signing in, sign codes, the lock.

A person's key is made on this tablet, certified by the site's root key, and kept under the
sign code. A person is believed only while the certificate fits; nobody else gets in.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from fieldapp.store.codes import SITE
from fieldapp.work.authority import counting
from fieldapp.work.known import Known
from fieldapp.work.own_keys import let_in, new_key, refuse_weak, site_key_with
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.site_states import state_as_site
from fieldapp.work.writing import new_thing_id, written
from schemas.bodies.person import Person, Role
from schemas.signatures import Certificate, SigningKey
from schemas.trouble import BadInput

IDLE_LOCK = timedelta(minutes=10)


@dataclass(eq=False)
class NoSuchPerson(BadInput):
    """Nobody of that name is enrolled here."""

    name: str

    happened = "{name} is not enrolled at this mine."
    kept = "Nothing was changed."
    do_next = "The records keeper enrols people: lastrow person add."


@dataclass(eq=False)
class NameTaken(BadInput):
    """Somebody of that name is enrolled already."""

    name: str

    happened = "{name} is enrolled already."
    kept = "The enrolment is as it was."
    do_next = "Give the new person a name that tells the two apart."


def people(site: Sight) -> tuple[Known[Person], ...]:
    """Give everybody enrolled by this site's key and not revoked."""
    roster = counting(site).roster
    newest = (Known(it.entry, it.body) for it in roster.newest())
    return tuple(it for it in newest if roster.ended_at(it.id) is None)


def person(site: Sight, name_or_id: str) -> Known[Person]:
    """Find somebody enrolled by id or by name.

    Raises
    ------
    NoSuchPerson
        Nobody of that name is enrolled.
    """
    for known in people(site):
        if name_or_id == known.id or name_or_id.casefold() == known.body.name.casefold():
            return known
    raise NoSuchPerson(name_or_id)


def name_of(site: Sight, person_id: str) -> str:
    """Give the name behind an id, also of somebody whose enrolment has ended; else the id."""
    known = counting(site).roster.of(person_id)
    return known[-1].body.name if known else person_id


def enrol(
    site: Site, name: str, roles: Iterable[Role], *, sign_code: str, site_code: str
) -> Known[Person]:
    """Enrol a person: make a key on this tablet, certify it, keep it under the sign code.

    Raises
    ------
    WrongSignCode
        `site_code` does not open the site's key.
    NotAllowed
        Too many wrong codes: how long to wait.
    BadInput
        The name is taken or the sign code can't be used.
    """
    refuse_weak(sign_code, name)
    if any(known.body.name.casefold() == name.casefold() for known in people(site)):
        raise NameTaken(name)
    site_key = site_key_with(site, site_code)
    person_id = new_thing_id(site)
    key = new_key(site, sign_code, owner=person_id)
    given = tuple(roles)
    certificate = Certificate.issue(
        site_key, holder=person_id, public_key=key.public_key, roles=given
    )
    body = Person(
        name=name,
        roles=given,
        public_key=key.public_key,
        certificate=certificate.signature,
    )
    entry = written(site, "person", body, author=person_id, thing_id=person_id)
    state_as_site(site, [entry], site_key)
    site.store.keys.let_sign(person_id)
    return Known(entry, body)


def reset_code(site: Site, who: Known[Person], *, sign_code: str, site_code: str) -> Known[Person]:
    """Give somebody a new key under a new sign code; the old key signs nothing new here.

    Raises
    ------
    NotAllowed
        `site_code` does not open the site's key.
    NoSuchPerson
        Their enrolment has ended: whoever comes back is enrolled anew.
    """
    who = person(site, who.id)
    refuse_weak(sign_code, who.body.name)
    site_key = site_key_with(site, site_code)
    key = new_key(site, sign_code, owner=who.id)
    known = state_key(site, who, key.public_key, site_key)
    site.store.keys.let_sign(who.id)
    return known


def state_key(
    site: Site, who: Known[Person], public_key: str, site_key: SigningKey
) -> Known[Person]:
    """State by the site's key that a key is somebody's, beside those that they have."""
    certificate = Certificate.issue(
        site_key, holder=who.id, public_key=public_key, roles=who.body.roles
    )
    changes = {"public_key": public_key, "certificate": certificate.signature}
    body = who.body.model_copy(update=changes)
    parents = (who.entry.revision,)
    entry = written(site, "person", body, author=who.id, thing_id=who.id, parents=parents)
    state_as_site(site, [entry], site_key)
    return Known(entry, body)


def revoke(site: Site, who: Known[Person], *, site_code: str) -> Known[Person]:
    """End somebody's enrolment. What they signed before stays signed.

    Raises
    ------
    NotAllowed
        `site_code` does not open the site's key.
    """
    site_key = site_key_with(site, site_code)
    body = who.body.model_copy(update={"revoked": True})
    parents = (who.entry.revision,)
    entry = written(site, "person", body, author=SITE, thing_id=who.id, parents=parents)
    state_as_site(site, [entry], site_key)
    return Known(entry, body)


def sign_in(site: Site, who: Known[Person], code: str) -> Session:
    """Open the tablet for a person.

    Raises
    ------
    NotLetIn
        Another code; each further wrong one makes the next try wait longer.
    NotAllowed
        The person has no key here, or must wait.
    NoSuchPerson
        Their enrolment has ended since they were looked up.
    """
    who = person(site, who.id)
    let_in(site, who, code)
    return Session(person_id=who.id, name=who.body.name, roles=who.body.roles)


def still_enrolled(site: Site, session: Session) -> Session:
    """Give who is signed in with the roles that they have now.

    Raises
    ------
    NoSuchPerson
        Their enrolment has ended since they signed in.
    """
    who = person(site, session.person_id)
    return Session(person_id=who.id, name=who.body.name, roles=who.body.roles)


def is_idle(last_touch_at: datetime, now: datetime) -> bool:
    """Whether the tablet locks: ten minutes without a touch, or a clock that went backwards."""
    return not timedelta(0) <= now - last_touch_at < IDLE_LOCK
