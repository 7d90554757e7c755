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
import sync.pulling
import sync.share_identity
import tests.share.holdings
import tests.share.simulated_folder

REMEMBERED = 20_000
PURE: tuple[tuple[ModuleType, str], ...] = (
    (schemas.signatures, "is_signature_of_bytes"),
    (sync.pulling, "open_segment"),
    (sync.pulling, "entries_in"),
    (sync.pulling, "read_head"),
    (sync.pulling, "read_tablet_identity"),
    (tests.share.holdings, "entries_in"),
    (tests.share.simulated_folder, "read_tablet_identity"),
)


@contextmanager
def remembering() -> Iterator[None]:
    """Have pure functions remember what they gave."""
    with pytest.MonkeyPatch.context() as patch:
        for module, name in PURE:
            patch.setattr(module, name, lru_cache(REMEMBERED)(getattr(module, name)))
        yield
