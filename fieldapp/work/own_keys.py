"""The keys of people, and of the site, that are kept on this tablet under their sign codes."""

import re
from dataclasses import dataclass

from fieldapp.store.codes import SITE, SignCodeDelayed
from fieldapp.work.authority import counting
from fieldapp.work.known import Known
from fieldapp.work.site import Site
from schemas.bodies.person import Person
from schemas.signatures import SEED_BYTES, SigningKey
from schemas.trouble import BadInput, NotAllowed
from schemas.wrapped_key import COST, RANDOM_BYTES, WrappedKey, WrongSignCode, wrap

CODE = re.compile(r"[0-9]{4,12}")
DEMO_COST = 2**10
"""The demo's sign codes stand on its screen: nothing is slowed by stretching them."""


@dataclass(eq=False)
class NotHere(NotAllowed):
    """A person is enrolled, but has no key on this tablet."""

    name: str

    happened = "{name} has no key on this tablet."
    kept = "Nothing was changed."
    do_next = (
        "On a mine's shared tablet {name} chooses a sign code under Who is here; on a tablet by "
        "itself the records keeper gives one."
    )


@dataclass(eq=False)
class NotLetIn(WrongSignCode):
    """Another code was entered at signing in."""

    kept = "Nobody is signed in; every record is on this tablet as it was."


@dataclass(eq=False)
class WrongSiteCode(WrongSignCode):
    """Another code was entered for the site's root key."""

    happened = "This is not {owner}."
    do_next = "Enter the code again; the records keeper keeps it, and nobody can make another."


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


def codes_here(site: Site) -> frozenset[str]:
    """Give the ids of those who can sign in here: their key is here, and the site certified it."""
    keys, roster = site.store.keys, counting(site).roster
    ids = (it.entry.id for it in roster.newest())
    owners = set(keys.owners())
    return frozenset(
        it
        for it in ids
        if (it in owners and keys.public_key(it) in roster.keys(it))
        or keys.waiting(it) in roster.keys(it)
    )


def let_in(site: Site, who: Known[Person], code: str) -> None:
    """Try a person's sign code, for nothing but to let them in.

    Raises
    ------
    NotLetIn
        It is not the code.
    NotAllowed
        No key here, or still waiting after wrong codes.
    """
    _key_of(site, who, code, NotLetIn(who.body.name))


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


def is_office(site: Site) -> bool:
    """Whether this is the office's machine: the site's root key is kept here."""
    return SITE in site.store.keys.owners()


def site_key_with(site: Site, code: str) -> SigningKey:
    """Take the site's root key out with the records keeper's site code.

    Raises
    ------
    NotAllowed
        Wrong code, no site key on this tablet, or still waiting.
    """
    return _open(site, SITE, code, WrongSiteCode("the site code"))


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


def refuse_weak(sign_code: str, name: str) -> None:
    """Refuse a code that is no code: it takes 4 to 12 digits."""
    if not CODE.fullmatch(sign_code):
        raise WeakCode(name)


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
