"""Finding what a label is on: from a photo of it, or from the short id that somebody typed."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fieldapp.work.labels import Labelled, labelled
from fieldapp.work.photo.square_codes import LOOKS, looks
from fieldapp.work.site import Sight
from schemas.short_id import PREFIX, ShortId, scanned, typed
from schemas.trouble import BadInput

Watch = Callable[[int, int], None]
"""Told how many looks at the photo are done, and of how many; raises to stop."""


@dataclass(eq=False)
class NoLabelSeen(BadInput):
    """No square code could be read in a photo."""

    name: str

    happened = "No square code could be read in the photo {name}."
    kept = "The photo was left as it is, and nothing was changed."
    do_next = (
        "Wipe the label, go nearer, stand in front of it, light it from the side and hold "
        "still. Or type the nine characters that stand on it."
    )


def unwatched(_done: int, _of: int) -> None:
    """Let nobody know, and never stop."""


def find_in_photo(site: Sight, path: Path, watch: Watch = unwatched) -> tuple[Labelled, ...]:
    """Give what the labels in a photo are on; two labels in sight are two things.

    Raises
    ------
    NoPhoto
        The file is no photo that can be used.
    NoLabelSeen
        No look at it read a square code.
    NotOurs, RoundSheetRead, ShortIdUnread
        It is another code than a label's.
    NotKnownHere
        It is a label, and this tablet knows nothing of what it is on.
    """
    codes = tuple(dict.fromkeys(_codes_in(path, watch)))
    return tuple(dict.fromkeys(it for code in codes for it in labelled(site, code)))


def find_typed(site: Sight, text: str) -> tuple[Labelled, ...]:
    """Give what bears the short id that somebody typed; nearly always one thing.

    Raises
    ------
    NotOurs, RoundSheetRead, ShortIdUnread
        It is no short id.
    NotKnownHere
        This tablet knows nothing of that short id.
    """
    return labelled(site, typed(text))


def _codes_in(path: Path, watch: Watch) -> tuple[ShortId, ...]:
    others: tuple[str, ...] = ()
    for done, texts in enumerate(looks(path), start=1):
        ours = tuple(it for it in texts if it.startswith(PREFIX))
        if ours:
            return tuple(scanned(it) for it in ours)
        others = others or texts
        watch(done, LOOKS)
    if others:
        return (scanned(others[0]),)  # none of ours: it says so
    raise NoLabelSeen(path.name)
