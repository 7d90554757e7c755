"""A glove bounces: its second touch was meant for what the glass showed before.

Whatever changes what lies under a finger says so here: a panel that opens or goes, another
screen. For a moment after that no touch is taken.
"""

from time import monotonic

BOUNCE_S = 0.15
"""People don't answer so fast."""


class Bounce:
    """When the glass showed something else last."""

    def __init__(self) -> None:
        self._since = -BOUNCE_S

    def begin(self) -> None:
        """Note that something else lies under the finger from now on."""
        self._since = monotonic()

    @property
    def is_on(self) -> bool:
        """Whether a touch now was meant for what was there before."""
        return monotonic() - self._since < BOUNCE_S


bounce = Bounce()
