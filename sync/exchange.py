"""One exchange with a share: what we have goes out, what others have comes in.

Safe to stop, kill and repeat at any point: everything that is put has the hash of its bytes
in its name, and what was done is known from the share and the database, not from a note that
it was done.
"""

from dataclasses import replace

from sync.asked_once import AskedOnce
from sync.deep_scan import deep_scan
from sync.meeting import Meeting
from sync.mending import (
    mend_what_is_reported,
    note_what_is_missed,
    report_what_stays_bad,
)
from sync.outcome import Outcome, Stopped
from sync.photo_shelf import PhotoShelf
from sync.photos import acknowledge_photos, bring_photos, send_photos
from sync.pulling import notice_another_of_us, pull, remember_own
from sync.pushing import audit, keep_own_certificate, push
from sync.share_identity import ShareIsNewer, check_share
from sync.trust_exchange import exchange_trust


def exchange(meeting: Meeting, *, deep: bool = False) -> Outcome:
    """Exchange with the share that this tablet is paired with.

    Our entries go first: the tablet may be at the surface for two minutes.

    Parameters
    ----------
    meeting : Meeting
        The folder and what is held here.
    deep : bool
        Whether to look through the whole share besides.

    Returns
    -------
    Outcome
        What went out, came in, waits and was refused; also where it was stopped.

    Raises
    ------
    NoShareHere, AnotherShare
        It is not the share that this tablet belongs to; nothing was written.
    ShareGone
        It ended half-way: what was done is done, the rest waits.

    Notes
    -----
    A share that is full or may not be written is read all the same; `Outcome.only_read` says
    why nothing more went out.
    """
    meeting = replace(meeting, holdings=AskedOnce(meeting.holdings))
    try:
        _exchange(meeting, deep=deep)
    except Stopped:
        meeting.outcome.stopped = True
    meeting.name_odd_tablets()
    return meeting.outcome


def _exchange(meeting: Meeting, *, deep: bool) -> None:
    identity = check_share(meeting.folder, meeting.holdings.trust().store)
    if identity.unknown_features():
        needs = ", ".join(identity.unknown_features())
        newer = ShareIsNewer(meeting.folder.place, needs)
        meeting.outcome.only_read = "\n".join(newer.sentences())
    meeting.look_at_heads()
    remember_own(meeting)
    notice_another_of_us(meeting)
    keep_own_certificate(meeting)
    meeting.holdings.seal()
    _send(meeting)
    exchange_trust(meeting)
    pull(meeting)
    mend_what_is_reported(meeting)
    _acknowledge(meeting)
    if deep:
        deep_scan(meeting)
    if meeting.shelf is not None:
        _photos(meeting, meeting.shelf)
    note_what_is_missed(meeting)
    report_what_stays_bad(meeting)
    _send(meeting)


def _photos(meeting: Meeting, shelf: PhotoShelf) -> None:
    """Photos come after all entries: a tablet may be at the surface for two minutes."""
    if not meeting.outcome.only_read:
        send_photos(meeting, shelf)
    bring_photos(meeting, shelf)
    if meeting.keeps_photos and meeting.is_believed() and not meeting.outcome.only_read:
        acknowledge_photos(shelf)
        meeting.holdings.seal()


def _send(meeting: Meeting) -> None:
    if not meeting.outcome.only_read:
        push(meeting)
        audit(meeting)


def _acknowledge(meeting: Meeting) -> None:
    """Tell the others that we hold what nobody has said yet to hold."""
    if not meeting.is_believed():
        return
    own = set(meeting.holdings.own_tablets())
    held = {it.name for tablet, row in meeting.holdings.rows().items() for it in row}
    news = sorted(
        name for name in held - meeting.holdings.acknowledged() if name.tablet not in own
    )
    if news and not meeting.outcome.only_read:
        meeting.holdings.acknowledge(news)
        meeting.holdings.seal()
