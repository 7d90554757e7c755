"""What tablets say about bad files of the share, as entries."""

from collections.abc import Callable, Sequence
from datetime import datetime

from sqlalchemy import Connection

from fieldapp.store.own_words import moments, own_word
from schemas.bodies.bad_file import BadFile
from schemas.entry import Entry, corrected

BAD_FILE = "bad_file"


def bad_words(
    connection: Connection,
    new: Sequence[BadFile],
    good_again: Sequence[Entry],
    *,
    tablet: str,
    now: datetime,
    random_bytes: Callable[[int], bytes],
) -> Sequence[Entry]:
    """Write the entries in which a tablet reports files, or ends reports, without keeping them."""
    at = moments(connection, tablet, now)
    told = [own_word(BAD_FILE, body, next(at), random_bytes) for body in new]
    return told + [corrected(it, {"good_again": True}, next(at)) for it in good_again]
