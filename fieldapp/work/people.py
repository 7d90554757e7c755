"""People: enrolling them with the site's key, signing in, sign codes, the lock.

A person's key is made on this tablet, certified by the site's root key, and kept under the
sign code. A person is believed only while the certificate fits; nobody else gets in.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from fieldapp.store.codes import SITE, SignCodeDelayed
from fieldapp.work.authority import counting
from fieldapp.work.known import Known
from fieldapp.work.site import Session, Site
from fieldapp.work.site_states import state_as_site
from fieldapp.work.writing import new_thing_id, written
from schemas.bodies.person import Person, Role
from schemas.signatures import SEED_BYTES, Certificate, SigningKey
from schemas.trouble import BadInput, NotAllowed
from schemas.wrapped_key import COST, RANDOM_BYTES, WrappedKey, WrongSignCode, wrap

IDLE_LOCK = timedelta(minutes=10)
CODE = re.compile(r"[0-9]{4,12}")
DEMO_COST = 2**10
"""The demo's sign codes stand on its screen: nothing is slowed by stretching them."""


@dataclass(eq=False)
class NoSuchPerson(BadInput):
    """Nobody of that name is enrolled here."""

    name: str

    happened = "{name} is not enrolled at this mine."
    kept = "Nothing was changed."
    do_next = "The records keeper enrols people: lastrow person add."


@dataclass(eq=False)
class NotHere(NotAllowed):
    """A person is enrolled, but has no key on this tablet."""

    name: str

    happened = "{name} has no key on this tablet."
    kept = "Nothing was changed."
    do_next = "The records keeper gives {name} a sign code on this tablet."


@dataclass(eq=False)
class NotLetIn(WrongSignCode):
    """Another code was entered at signing in."""

    kept = "Nobody is signed in; every record is on this tablet as it was."


@dataclass(eq=False)
class NotSigned(WrongSignCode):
    """Another code was entered for something that the person signs."""

    kept = "Nothing was signed; the round is on this tablet as it was."


@dataclass(eq=False)
class WeakCode(BadInput):
    """A sign code is too short, or not made of digits."""

    name: str

    happened = "The sign code of {name} can't be used: it takes 4 to 12 digits."
    kept = "Nothing was changed."
    do_next = "Choose a longer code, digits only."


@dataclass(eq=False)
class NameTaken(BadInput):
    """Somebody of that name is enrolled already."""

    name: str

    happened = "{name} is enrolled already."
    kept = "The enrolment is as it was."
    do_next = "Give the new person a name that tells the two apart."


def people(site: Site) -> tuple[Known[Person], ...]:
    """Give everybody enrolled by this site's key and not revoked."""
    roster = counting(site).roster
    newest = (Known(it.entry, it.body) for it in roster.newest())
    return tuple(it for it in newest if roster.ended_at(it.id) is None)


def person(site: Site, name_or_id: str) -> Known[Person]:
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


def name_of(site: Site, person_id: str) -> str:
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
    _key_of(site, who, code, NotLetIn(who.body.name))
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


def key_with(site: Site, who: Known[Person], code: str) -> SigningKey:
    """Take a person's key out with the sign code, to sign one thing.

    Raises
    ------
    NotSigned
        It is not the code.
    NotAllowed
        No key here, or still waiting after wrong codes.
    """
    return _key_of(site, who, code, NotSigned(who.body.name))


def site_key_with(site: Site, code: str) -> SigningKey:
    """Take the site's root key out with the records keeper's site code.

    Raises
    ------
    NotAllowed
        Wrong code, no site key on this tablet, or still waiting.
    """
    return _open(site, SITE, code, WrongSignCode("the site"))


def new_key(site: Site, code: str, *, owner: str) -> SigningKey:
    """Make a key on this tablet and keep it under a code.

    It waits, and an earlier one signs on, until the site has stated that it is the owner's.
    """
    key = SigningKey(site.chance(SEED_BYTES))
    wrapped = _wrapped(site, key, code, owner=owner, demo=site.mine.demo)
    site.store.keys.keep_waiting(wrapped)
    return key


def keep_key(site: Site, key: SigningKey, code: str, *, owner: str, demo: bool = False) -> None:
    """Keep a key under a code; in a demo mine under one that is cheap to try."""
    site.store.keys.keep(_wrapped(site, key, code, owner=owner, demo=demo or site.mine.demo))


def is_idle(last_touch_at: datetime, now: datetime) -> bool:
    """Whether the tablet locks: ten minutes without a touch, or a clock that went backwards."""
    return not timedelta(0) <= now - last_touch_at < IDLE_LOCK


def _wrapped(site: Site, key: SigningKey, code: str, *, owner: str, demo: bool) -> WrappedKey:
    cost = DEMO_COST if demo else COST
    return wrap(key, code, owner=owner, random_bytes=site.chance(RANDOM_BYTES), cost=cost)


def _use_certified_key(site: Site, who: Known[Person]) -> None:
    """Take a key into use that waited until the site certified it."""
    keys, certified = site.store.keys, counting(site).roster.keys(who.id)
    if keys.waiting(who.id) in certified:
        keys.let_sign(who.id)
    if who.id in keys.owners() and keys.public_key(who.id) not in certified:
        raise NotHere(who.body.name)


def _key_of(site: Site, who: Known[Person], code: str, unless: WrongSignCode) -> SigningKey:
    _use_certified_key(site, who)
    return _open(site, who.id, code, unless)


def _open(site: Site, owner: str, code: str, unless: WrongSignCode) -> SigningKey:
    """Open a key; what is told, `unless` it opens, names the person, not the id."""
    if owner not in site.store.keys.owners():
        raise NotHere(unless.owner)
    try:
        return site.store.keys.unlock(owner, code, now=site.now())
    except WrongSignCode as wrong:
        raise unless from wrong
    except SignCodeDelayed as delayed:
        raise SignCodeDelayed(unless.owner, delayed.wait_s) from delayed


def refuse_weak(sign_code: str, name: str) -> None:
    """Refuse a code that is no code: it takes 4 to 12 digits."""
    if not CODE.fullmatch(sign_code):
        raise WeakCode(name)
