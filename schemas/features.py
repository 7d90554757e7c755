"""Features that an entry may ask its readers to know, by the names in its field `must`."""

from typing import Final

OVER_OLD: Final = "over-old-support"
"""Its round is put up over old support: who doesn't know takes it for a step of the advance."""

KNOWN_MUST: Final = frozenset({OVER_OLD})
"""Those that this version knows."""
