"""What is worked out of many entries once and remembered: never the truth, and never missed.

Whatever is remembered belongs to one state of the entries that it comes from; of another state
it is worked out anew.
"""

import logging
from typing import TypeVar

from pydantic import TypeAdapter, ValidationError

from fieldapp.work.site import Site
from schemas.trouble import DiskTrouble

Found = TypeVar("Found")


def recalled(site: Site, name: str, state: str, form: TypeAdapter[Found]) -> Found | None:
    """Give what was remembered under a name in a state; None where it has to be worked out."""
    content = site.store.gathered.read(name, state)
    try:
        return form.validate_json(content) if content else None
    except ValidationError:
        return None


def remember(site: Site, name: str, state: str, form: TypeAdapter[Found], found: Found) -> None:
    """Remember it in the place of what was remembered under that name, where there is room."""
    try:
        site.store.gathered.keep(name, state, form.dump_json(found))
    except DiskTrouble as trouble:  # nobody must go without the answer for want of room
        logging.getLogger(__name__).warning("%s", trouble)
