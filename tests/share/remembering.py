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
import tests.share.invariants
import tests.share.simulated_folder
from schemas.signatures import SigningKey
from sync.share_identity import ShareIdentity
from sync.tablet_identity import TabletIdentity

REMEMBERED = 20_000
PURE: tuple[tuple[ModuleType | type, str], ...] = (
    (schemas.signatures, "is_signature_of_bytes"),
    (sync.opening, "open_segment"),
    (sync.pulling, "read_head"),
    (sync.pulling, "read_tablet_identity"),
    (ShareIdentity, "is_genuine"),
    (TabletIdentity, "content"),
    (tests.share.invariants, "open_segment"),
    (tests.share.simulated_folder, "read_tablet_identity"),
)


@contextmanager
def remembering() -> Iterator[None]:
    """Have pure functions remember what they gave."""
    with pytest.MonkeyPatch.context() as patch:
        for place, name in PURE:
            patch.setattr(place, name, lru_cache(REMEMBERED)(getattr(place, name)))
        once = lru_cache(REMEMBERED)(SigningKey.public_key.fget)  # type: ignore[attr-defined]
        patch.setattr(SigningKey, "public_key", property(once))
        yield
