"""Puts what could be read of a damaged database into another one: a backup's, or an empty one.

What is there already stays as it is; what can be read goes beside it.
"""

from contextlib import suppress
from itertools import groupby

from sqlalchemy import insert, select

from fieldapp.store import Store
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.ledger import write_entries
from fieldapp.store.pairing import NotPaired, Pairing
from fieldapp.store.salvage import Saved, SavedDraft, SavedShare
from fieldapp.store.sealing import RECEIPT
from fieldapp.store.tables import FormerTabletRow
from sync.segment import BrokenSegment, open_segment, tablet_id
from sync.trust import BrokenTrust, Trust


def carry_over(saved: Saved, store: Store) -> None:
    """Put what could be read into an open store."""
    _carry_entries(saved, store)
    _carry_drafts(saved, store)
    for key in saved.keys:
        store.keys.keep(key)
    _carry_tablet(saved, store)
    _carry_share(saved.share, store.holdings)


def begin_anew(store: Store) -> None:
    """Have a tablet that was brought back go on by a new key, before it seals anything.

    Its row of segments may lie behind what the share shows of it, and no number may be used
    twice. The old key hands on to the new one, so that the tablet is believed as before; what
    it does not remember comes back from the share. A tablet without a key makes one anyway.
    """
    with store.database.reading() as connection:
        has_key = store.keys.tablet_seen(connection) is not None
    if has_key:
        store.holdings.begin_anew()


def _carry_entries(saved: Saved, store: Store) -> None:
    """Write the entries in their order, what others stated as theirs.

    The words of this tablet that it holds segments are left out: it may not hold them now,
    and says so anew of those that it does.
    """
    wanted = [it for it in saved.entries if it.kind != RECEIPT or it.revision in saved.received]
    with store.database.writing() as connection:
        for received, entries in groupby(wanted, lambda it: saved.received.get(it.revision)):
            whose = vars(received) if received else {}
            write_entries(connection, tuple(entries), **whose)


def _carry_drafts(saved: Saved, store: Store) -> None:
    were_open = {it.draft_id for it in store.drafts.open_drafts()}
    for draft in saved.drafts:
        store.drafts.begin(draft.draft_id, draft.about)
    now_open = {it.draft_id for it in store.drafts.open_drafts()}
    for draft in saved.drafts:
        if draft.draft_id in now_open:
            _carry_touches(draft, store)
    seen_open = {it.draft_id for it in saved.drafts}
    became = {it.id for it in saved.entries if it.revision not in saved.received} - seen_open
    for draft_id in were_open & (saved.finished | became):
        store.drafts.finish(draft_id, [])


def _carry_touches(draft: SavedDraft, store: Store) -> None:
    """Go on where the touches that are there end: a draft only ever grows."""
    there = len(store.drafts.touches(draft.draft_id))
    for line in draft.touches[there:]:
        store.drafts.touch(draft.draft_id, line)


def _carry_tablet(saved: Saved, store: Store) -> None:
    """Remember every id that this tablet went by, and its key where there is none."""
    with store.database.writing() as connection:
        if saved.tablet and store.keys.tablet_seen(connection) is None:
            store.keys.put_tablet(connection, saved.tablet)
        key = store.keys.tablet_seen(connection)
        known = set(connection.execute(select(FormerTabletRow.tablet)).scalars())
        known |= {tablet_id(key.public_key)} if key else set()
        for tablet in saved.share.own:
            if tablet not in known:
                former = insert(FormerTabletRow).values(tablet=tablet, sealed_up_to=0)
                connection.execute(former)


def _carry_share(share: SavedShare, holdings: SqlHoldings) -> None:
    for identity in share.certificates:
        if holdings.identity(identity.tablet) is None:
            holdings.keep_identity(identity)
    if _pair(share, holdings):
        _carry_trust(share, holdings)
        _carry_segments(share, holdings)


def _carry_trust(share: SavedShare, holdings: SqlHoldings) -> None:
    held = {name for name, _ in holdings.trust_records()}
    for name, content in share.records:
        if name not in held:
            with suppress(BrokenTrust):  # nothing that follows can be proved without it
                holdings.take_trust(name, content)


def _carry_segments(share: SavedShare, holdings: SqlHoldings) -> None:
    for name, content in share.segments:
        known = holdings.identity(name.tablet)
        if known is not None:
            with suppress(BrokenSegment):
                segment = open_segment(name.file, content, public_key=known.public_key)
                holdings.take_in(segment, name)


def _pair(share: SavedShare, holdings: SqlHoldings) -> bool:
    """Pair as the damaged one was, where that is proved or nothing else is known."""
    try:
        holdings.trust()
    except NotPaired:
        known = False
    else:
        known = True
    if share.pairing is None or (known and not _is_proved(share.pairing, share)):
        return known
    holdings.pair(share.pairing.store, share.pairing.root_keys, again=True)
    return True


def _is_proved(pairing: Pairing, share: SavedShare) -> bool:
    """Whether the first record of trust that could be read is one of that share."""
    for name, content in share.records[:1]:
        with suppress(BrokenTrust):
            Trust(pairing.store, pairing.root_keys).with_record(name.file, content)
            return True
    return False
