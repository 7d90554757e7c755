"""What the entries about a heading come to, read anew only when one was added.

Years of rounds are not read with every look. What they came to is kept beside them, with the
revisions that it came from; it is never the truth, and never missed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from typing import Self

from pydantic import TypeAdapter

from fieldapp.work.authority import counting
from fieldapp.work.gathering import READ_BESIDE_ENTRY, READ_FOR_ENTRY, HeadingRecord, gathered
from fieldapp.work.headings import headings
from fieldapp.work.remembering import recalled, remember
from fieldapp.work.site import Sight, Site
from schemas.trouble import DiskTrouble
from sync.ledger import FOR_ALL

_FORM = "11"
"""Of what is kept and how it is gathered: raise it when either changes."""

_CONCERN_EVERY_HEADING = (*READ_FOR_ENTRY, *READ_BESIDE_ENTRY, "person", "withdrawal")


@dataclass(eq=False)
class RecordUnfit(DiskTrouble):
    """What was kept of headings is not what their entries come to."""

    names: str

    happened = "What was remembered of {names} was not what its entries come to."
    kept = "It was gathered anew from the entries, which are as they were stated."
    do_next = "Look at the Shift board again before anybody goes in; ask who had this tablet."

    @classmethod
    def of(cls, names: Sequence[str]) -> Self:
        """Name the headings; the first of many."""
        first, *others = sorted(names)
        return cls(f"{first} and {len(others)} more" if len(others) > 1 else ", ".join(names))


def heading_record(site: Sight, heading_id: str) -> HeadingRecord:
    """Give what the ledger says of a heading, as a tablet kept it or gathered anew."""

    def found() -> HeadingRecord:
        if isinstance(site, Site):
            return _record(site, heading_id)
        return gathered(site, heading_id)

    return counting(site).remembered(("record", heading_id), found)


def remembered_wrongly(site: Site) -> RecordUnfit | None:
    """Tell of headings in whose place something else was remembered, since the program began."""
    altered = site.store.gathered.altered
    names = [it.body.name for it in headings(site) if it.id in altered]
    return RecordUnfit.of(names) if names else None


def gathered_again(site: Site, heading_id: str) -> bool:
    """Gather a heading's record anew; tell whether what was kept, if anything, was the same."""
    state = heading_state(site, heading_id)
    kept = _kept(site, heading_id, state)
    fits = kept in (None, _anew(site, heading_id, state))
    return fits and heading_id not in site.store.gathered.altered


def _record(site: Site, heading_id: str) -> HeadingRecord:
    state = heading_state(site, heading_id)
    return _kept(site, heading_id, state) or _anew(site, heading_id, state)


def _kept(site: Site, heading_id: str, state: str) -> HeadingRecord | None:
    return recalled(site, heading_id, state, record_form())


def _anew(site: Site, heading_id: str, state: str) -> HeadingRecord:
    found = gathered(site, heading_id)
    remember(site, heading_id, state, record_form(), found)
    return found


def heading_state(site: Site, heading_id: str) -> str:
    """Name the state of everything that a heading's record is gathered from."""
    filed = counting(site).remembered("filed", lambda: _filed(site))
    of_site = counting(site).remembered("of site", lambda: _of_site(site))
    lacking = counting(site).lacking
    left_out = map(str, sorted(lacking.left_out) if lacking else ())
    concerns = (_FORM, site.mine.site_key, of_site, filed[FOR_ALL], filed.get(heading_id, ""))
    return sha256("\n".join((*concerns, *left_out)).encode()).hexdigest()


def _of_site(site: Site) -> str:
    """Give what the site's records state: by them it is known who had the standing."""
    return " ".join(sorted(site.store.ledger.stated_by_site() or ()))


def _filed(site: Site) -> Mapping[str | None, str]:
    return site.store.ledger.filed(_CONCERN_EVERY_HEADING)


@cache
def record_form() -> TypeAdapter[HeadingRecord]:
    """Give what writes a record as bytes, and reads it again."""
    return TypeAdapter(HeadingRecord)
