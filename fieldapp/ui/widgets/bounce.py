"""A glove bounces: its second touch was meant for what the glass showed before.

Whatever changes what lies under a finger says so here: a panel that opens or goes, another
screen. For a moment after that no touch is taken.
"""

from time import monotonic

BOUNCE_S = 0.15
"""People don't answer so fast."""
AFTER_A_CODE_S = 1.0
"""A code that was taken at its last digit: the finger is on its way to *Done* perhaps."""


class Bounce:
    """When the glass showed something else last."""

    def __init__(self) -> None:
        self._until = 0.0

    def begin(self, lasts_s: float | None = None) -> None:
        """Note that something else lies under the finger from now on."""
        lasts_s = BOUNCE_S if lasts_s is None else lasts_s
        self._until = max(self._until, monotonic() + lasts_s)

    @property
    def is_on(self) -> bool:
        """Whether a touch now was meant for what was there before."""
        return monotonic() < self._until


bounce = Bounce()
