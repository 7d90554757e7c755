"""A person's key on one more tablet: made there under a sign code, certified by the office.

A key never leaves the tablet on which it was made. Until the site states that it is that
person's, it signs nothing; somebody who asks in another's name has nothing but a key that
waits, for the office compares the check number with the person.
"""

from dataclasses import dataclass

from fieldapp.work.authority import counting
from fieldapp.work.enrol.checked import WrongCheckNumber
from fieldapp.work.known import Known, current
from fieldapp.work.own_keys import new_key, refuse_weak, site_key_with
from fieldapp.work.people import person, state_key
from fieldapp.work.site import Site
from fieldapp.work.writing import state
from schemas.bodies.key_request import KeyRequest
from schemas.bodies.person import Person
from schemas.check_number import is_check_number_of
from schemas.trouble import BadInput


@dataclass(eq=False)
class NoKeyWaits(BadInput):
    """Nobody asked for a key in that name."""

    name: str
    happened = "No key of {name} waits for the office."
    kept = "Nothing was changed."
    do_next = "On the tablet they touch their name and choose a sign code; share there, then here."


def ask_for_key(site: Site, who: Known[Person], *, sign_code: str) -> KeyRequest:
    """Make a key for somebody on this tablet, which waits until the office certifies it.

    Raises
    ------
    WeakCode
        The sign code can't be used.
    NoSuchPerson
        Their enrolment has ended.
    """
    who = person(site, who.id)
    refuse_weak(sign_code, who.body.name)
    key = new_key(site, sign_code, owner=who.id)
    body = KeyRequest(
        person=who.id, public_key=key.public_key, tablet=site.store.holdings.own_tablets()[-1]
    )
    state(site, "key_request", body, author=None)
    return body


def waiting_keys(site: Site) -> tuple[Known[KeyRequest], ...]:
    """Give the keys that wait for the office, oldest first."""
    roster = counting(site).roster
    asked = current(site, "key_request", KeyRequest)
    return tuple(it for it in asked if it.body.public_key not in roster.keys(it.body.person))


def refuse_none_waiting(site: Site, who: Known[Person]) -> None:
    """Refuse where nobody asked for a key in somebody's name; no code is asked for then."""
    if not _asked_by(site, who):
        raise NoKeyWaits(who.body.name)


def certify_key(site: Site, who: Known[Person], *, check: str, site_code: str) -> KeyRequest:
    """State by the site's key that a key that waits is somebody's.

    Raises
    ------
    NoKeyWaits
        Nobody asked for one in their name.
    WrongCheckNumber
        None of those that wait has this number.
    """
    refuse_none_waiting(site, who)
    for request in _asked_by(site, who):
        if is_check_number_of(request.public_key, check):
            state_key(site, who, request.public_key, site_key_with(site, site_code))
            return request
    raise WrongCheckNumber(who.body.name)


def _asked_by(site: Site, who: Known[Person]) -> list[KeyRequest]:
    return [it.body for it in waiting_keys(site) if it.body.person == who.id]
