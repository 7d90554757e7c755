"""Whether what a person signs is theirs, by this mine's own enrolments."""

from collections.abc import Iterator
from functools import lru_cache
from itertools import chain

from fieldapp.work.authority import counting
from fieldapp.work.enrolled import Roster
from fieldapp.work.roles import SIGNERS
from fieldapp.work.site import Sight
from schemas.entry import Entry
from schemas.signatures import PURPOSES, is_signed_by, is_to_be_signed


def signature_fits(site: Sight, signed: Entry) -> bool:
    """Tell whether its author signed this line with a key that the site certified as theirs.

    An enrolment that ended, or a key that was replaced since, signed all the same.
    """
    return _fits(counting(site).roster, signed)


def signed_here(site: Sight) -> Iterator[Entry]:
    """Yield every entry that a person signs."""
    of_these = chain.from_iterable(map(site.store.ledger.of_kind, PURPOSES))
    return filter(is_to_be_signed, of_these)


def signatures_that_do_not_fit(site: Sight) -> tuple[Entry, ...]:
    """Give every entry here that its author should have signed and did not."""
    people = counting(site).roster
    return tuple(entry for entry in signed_here(site) if not _fits(people, entry))


def why_not_believed(people: Roster, sign_off: Entry) -> str | None:
    """Say why a sign-off counts as none; None where it counts."""
    if not _fits(people, sign_off):
        return "the signature is not the signer's"
    roles = people.roles(sign_off)
    if not roles:
        return "the signer's enrolment had ended"
    if sign_off.body.get("role") not in roles or sign_off.body.get("role") not in SIGNERS:
        return "the signer was no shift supervisor"
    return None


def _fits(people: Roster, signed: Entry) -> bool:
    return any(_is_signed_by(signed, key) for key in people.keys(signed.author))


@lru_cache(maxsize=32_768)
def _is_signed_by(signed: Entry, public_key: str) -> bool:
    """Verify once a run: the board asks again with every touch."""
    return is_signed_by(signed, public_key)
