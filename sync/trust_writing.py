"""Writing the site's next record of trust: at the share, by whoever has the root key.

What others wrote there is read first, so that two records never bear one number. Each says
when it was made: whatever the site says renews its records.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from schemas.signatures import SigningKey
from schemas.trouble import NotAllowed
from sync.meeting import Meeting
from sync.names import TRUST
from sync.share_identity import check_share
from sync.trust import Act, Renew
from sync.trust_exchange import exchange_trust


@dataclass(eq=False)
class TrustNotRead(NotAllowed):
    """The share holds a record that could not be taken in."""

    place: str
    record: str
    happened = "{record} in {place} could not be read, and what comes after it can't be written."
    kept = "Who was believed before is believed still; nothing was changed."
    do_next = "Try again in a minute; if it stays so, have the share's folder of trust looked at."


def write_trust(meeting: Meeting, acts: Sequence[Act], root: SigningKey) -> None:
    """Put the next record into the share, and keep it here once it is there.

    Raises
    ------
    NoShareHere, AnotherShare, ShareGone, ShareFull, ShareReadOnly
        The share is not there, is another, or can't be written; nobody's standing has changed.
    TrustNotRead
        The share holds a record that is not here and can't be read now.
    """
    check_share(meeting.folder, meeting.holdings.trust().store)
    exchange_trust(meeting)
    for path in (*meeting.outcome.waiting, *meeting.outcome.refused):
        if path.startswith(f"{TRUST}/"):
            raise TrustNotRead(meeting.folder.place, path)
    renewed = Renew(at=datetime.fromtimestamp(meeting.now_s(), UTC))
    name, content = meeting.holdings.trust().next_record((*acts, renewed), root)
    meeting.folder.put(name.path, content)
    meeting.holdings.take_trust(name, content)
