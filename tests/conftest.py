"""What holds for every test."""

import gc

from hypothesis import settings

# The machine may be busy with the other lane: a time is never a verdict.
settings.register_profile("lastrow", deadline=None)
settings.load_profile("lastrow")


def pytest_collection_finish() -> None:
    """Look for garbage among what tests make, not among what was loaded for all of them."""
    gc.collect()
    gc.freeze()
