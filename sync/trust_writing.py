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
from sync.names import TRUST, TrustName
from sync.share_identity import check_share
from sync.trust import Act, EnrolTablet, Renew, Settle, State, revokes
from sync.trust_exchange import exchange_trust


@dataclass(eq=False)
class TrustNotRead(NotAllowed):
    """The share holds a record that could not be taken in."""

    place: str
    record: str
    happened = "{record} in {place} could not be read, and what comes after it can't be written."
    kept = "Who was believed before is believed still; nothing was changed."
    do_next = "Try again in a minute; if it stays so, have the share's folder of trust looked at."


@dataclass(eq=False)
class RivalRecords(NotAllowed):
    """Somebody is to be enrolled while two rows of records go apart: it would stand in one."""

    number: int
    happened = "The records of trust go apart before record {number}: two offices wrote them."
    kept = "Whoever either revokes is revoked; nobody new was enrolled."
    do_next = (
        "Look at both and settle it first: lastrow enrol settle. Revoking is possible before."
    )


def write_trust(meeting: Meeting, acts: Sequence[Act], root: SigningKey) -> None:
    """Put the next record into the share, and keep it here once it is there.

    Raises
    ------
    NoShareHere, AnotherShare, ShareGone, ShareFull, ShareReadOnly
        The share is not there, is another, or can't be written; nobody's standing has changed.
    TrustNotRead
        The share holds a record that is not here and can't be read now.
    RivalRecords
        It would enrol somebody, and rivals are to be settled first.
    """
    check_share(meeting.folder, meeting.holdings.trust().store)
    exchange_trust(meeting)
    trust = meeting.holdings.trust()
    for path in (*meeting.outcome.waiting, *meeting.outcome.refused):
        name = TrustName.of_file(path.removeprefix(f"{TRUST}/"))
        if name is not None and name.number > trust.number:
            raise TrustNotRead(meeting.folder.place, path)
    if trust.disputed and any(map(_enrols, acts)) and not any(map(_settles, acts)):
        raise RivalRecords(trust.number + 1)
    renewed = Renew(at=datetime.fromtimestamp(meeting.now_s(), UTC))
    name, content = trust.next_record((*acts, renewed), root)
    meeting.folder.put(name.path, content)
    meeting.holdings.take_trust(name, content)


def _enrols(act: Act) -> bool:
    return isinstance(act, EnrolTablet) or (isinstance(act, State) and not revokes(act.line))


def _settles(act: Act) -> bool:
    return isinstance(act, Settle)
