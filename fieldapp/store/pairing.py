"""Which share a tablet belongs to.

Apart from what keeps it, so that the jobs of the day can name these without loading the
database.
"""

from dataclasses import dataclass

from schemas.trouble import NotAllowed


@dataclass(frozen=True)
class Pairing:
    """A share, and the keys of the site that say who is believed there."""

    store: str
    root_keys: tuple[str, ...]


@dataclass(eq=False)
class NotPaired(NotAllowed):
    """A tablet that belongs to no share can't exchange with one."""

    happened = "This tablet is not paired with a shared folder yet."
    kept = "Everything that was stated here is kept on this tablet and waits."
    do_next = "Pair it with the mine's shared folder, then share again."


@dataclass(eq=False)
class PairedAlready(NotAllowed):
    """A tablet belongs to one share at a time."""

    known: str
    wanted: str
    happened = "This tablet belongs to share {known}, and it was to be paired with {wanted}."
    kept = "It belongs to the share as before, and everything is kept."
    do_next = "Make sure that it is the right share, then ask for it to be paired again."
