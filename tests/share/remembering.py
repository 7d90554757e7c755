"""Pure functions that give the same for the same are asked once: many seeds fit in a minute.

What they give is what they give in the product; the simulator's machines only share it, since
otherwise each would verify each signature for itself.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from types import ModuleType

import pytest

import schemas.signatures
import sync.opening
import sync.pulling
import sync.pushing
import tests.share.holdings
import tests.share.invariants
import tests.share.simulated_folder
from sync.head import Head
from sync.segment import Header
from sync.share_identity import ShareIdentity
from sync.tablet_identity import TabletIdentity

REMEMBERED = 20_000
PURE: tuple[tuple[ModuleType | type, str], ...] = (
    (schemas.signatures, "is_signature_of_bytes"),
    (sync.opening, "open_segment"),
    (sync.pulling, "read_head"),
    (sync.pulling, "read_tablet_identity"),
    (sync.pushing, "read_tablet_identity"),
    (Head, "digest"),
    (TabletIdentity, "digest"),
    (Header, "digest"),
    (tests.share.holdings, "held_by"),
    (ShareIdentity, "is_genuine"),
    (TabletIdentity, "content"),
    (tests.share.invariants, "open_segment"),
    (tests.share.invariants, "is_good"),
    (tests.share.simulated_folder, "is_good"),
)
PROPERTIES: tuple[tuple[type, str], ...] = ((TabletIdentity, "predecessor_id"),)


@contextmanager
def remembering() -> Iterator[None]:
    """Have pure functions remember what they gave."""
    with pytest.MonkeyPatch.context() as patch:
        for place, name in PURE:
            patch.setattr(place, name, lru_cache(REMEMBERED)(getattr(place, name)))
        for owner, name in PROPERTIES:
            once = lru_cache(REMEMBERED)(getattr(owner, name).fget)
            patch.setattr(owner, name, property(once))
        yield
