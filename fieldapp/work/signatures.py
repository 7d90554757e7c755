"""Whether sign-offs are what their persons signed, by this mine's own enrolments."""

from collections.abc import Iterator

from fieldapp.work.known import Known
from fieldapp.work.people import is_certified
from fieldapp.work.site import Site
from schemas.bodies.person import Person
from schemas.entry import Entry
from schemas.signatures import is_signed_by


def signature_fits(site: Site, sign_off: Entry) -> bool:
    """Tell whether its author signed this line with a key that the site certified as theirs.

    An enrolment that ended, or a key that was replaced since, signed all the same.
    """
    keys = [known.body.public_key for known in _enrolments(site, sign_off.author)]
    return any(is_signed_by(sign_off, key) for key in keys)


def sign_offs_that_do_not_fit(site: Site) -> tuple[Entry, ...]:
    """Give every sign-off here whose signature is not its author's."""
    signed = site.store.ledger.of_kind("sign_off")
    return tuple(entry for entry in signed if not signature_fits(site, entry))


def _enrolments(site: Site, person_id: str) -> Iterator[Known[Person]]:
    for entry in site.store.ledger.of_thing(person_id):
        if entry.kind == "person":
            known = Known(entry, Person.model_validate(dict(entry.body)))
            if is_certified(site, known):
                yield known
