"""What the entries about a heading come to, read anew only when one was added.

Years of rounds are not read with every look. What they came to is kept beside them, with the
revisions that it came from; it is never the truth, and never missed.
"""

import logging
from collections.abc import Mapping
from functools import cache
from hashlib import sha256

from pydantic import TypeAdapter, ValidationError

from fieldapp.work.authority import counting
from fieldapp.work.gathering import READ_FOR_ENTRY, HeadingRecord, gathered
from fieldapp.work.site import Site
from schemas.trouble import DiskTrouble
from sync.ledger import FOR_ALL

_FORM = "3"
"""Of what is kept and how it is gathered: raise it when either changes."""

_CONCERN_EVERY_HEADING = (*READ_FOR_ENTRY, "person", "withdrawal")


def heading_record(site: Site, heading_id: str) -> HeadingRecord:
    """Give what the ledger says of a heading, as it was kept or gathered anew."""
    return counting(site).remembered(("record", heading_id), lambda: _record(site, heading_id))


def gathered_again(site: Site, heading_id: str) -> bool:
    """Gather a heading's record anew; tell whether what was kept, if anything, was the same."""
    state = _state(site, heading_id)
    kept = _kept(site, heading_id, state)
    return kept in (None, _anew(site, heading_id, state))


def _record(site: Site, heading_id: str) -> HeadingRecord:
    state = _state(site, heading_id)
    return _kept(site, heading_id, state) or _anew(site, heading_id, state)


def _kept(site: Site, heading_id: str, state: str) -> HeadingRecord | None:
    content = site.store.gathered.read(heading_id, state)
    try:
        return _form().validate_json(content) if content else None
    except ValidationError:
        return None


def _anew(site: Site, heading_id: str, state: str) -> HeadingRecord:
    found = gathered(site, heading_id)
    content = _form().dump_json(found)
    try:
        site.store.gathered.keep(heading_id, state, content)
    except DiskTrouble as trouble:  # nobody must go without the answer for want of room
        logging.getLogger(__name__).warning("%s", trouble)
    return found


def _state(site: Site, heading_id: str) -> str:
    """Name the state of everything that a heading's record is gathered from."""
    filed = counting(site).remembered("filed", lambda: _filed(site))
    of_site = counting(site).remembered("of site", lambda: _of_site(site))
    concerns = (_FORM, site.mine.site_key, of_site, filed[FOR_ALL], filed.get(heading_id, ""))
    return sha256("\n".join(concerns).encode()).hexdigest()


def _of_site(site: Site) -> str:
    """Give what the site's records state: by them it is known who had the standing."""
    return " ".join(sorted(site.store.ledger.stated_by_site() or ()))


def _filed(site: Site) -> Mapping[str | None, str]:
    return site.store.ledger.filed(_CONCERN_EVERY_HEADING)


@cache
def _form() -> TypeAdapter[HeadingRecord]:
    return TypeAdapter(HeadingRecord)
