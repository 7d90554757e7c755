"""What a child does with the segments of others, and with a share, until it is killed."""

from collections.abc import Callable
from pathlib import Path

from fieldapp.store import Store, open_store
from schemas.trouble import DiskTrouble
from sync.exchange import exchange
from sync.folder import NotYet
from sync.local_folder import LocalFolder
from sync.meeting import Meeting
from sync.names import HEADS, ROOT, STORE
from tests.made import entry
from tests.share.holdings import ListHoldings
from tests.share.mine import ROOT as SITE_KEY
from tests.share.mine import STORE_JSON
from tests.share.strangers import TRUST, Stranger, enrolled, receipt, records, states, take

Acknowledge = Callable[[str], object]

BELIEVED, STRANGER = Stranger(100), Stranger(101)
RECEIVED = tuple(entry(number, {"note": "x" * number}) for number in range(10, 160))
OWN = tuple(entry(number) for number in range(500, 705))
"""One segment's worth, and some that wait."""
STATED = entry(400, kind="person")
KEPT = STRANGER.seals(entry(300), entry(301))
COMES = BELIEVED.seals(*RECEIVED, entry(300), receipt(KEPT[1]))
SHARE = "share"
"""The folder in which the share lies, in the tablet's own: both are begun with anew each time."""
ALL_OWN = frozenset(it.revision for it in OWN)
PUT, BYTES = f"{HEADS}/one.head", b"whole" * 1000
FIRST, SECOND = records([enrolled(BELIEVED.key)], [enrolled(STRANGER.key), states(STATED)])


def take_in(folder: Path, acknowledge: Acknowledge) -> None:
    """Take in a believed tablet's segment; one entry of it came from a stranger before."""
    with open_store(folder) as store:
        store.holdings.take_in(*COMES)
        acknowledge("taken in")


def take_trust(folder: Path, acknowledge: Acknowledge) -> None:
    """Take in the record that enrols the stranger, unless it was taken in before."""
    with open_store(folder) as store:
        if store.holdings.trust().number < SECOND[0].number:
            store.holdings.take_trust(*SECOND)
        acknowledge("believed")


def begin_anew(folder: Path, acknowledge: Acknowledge) -> None:
    """Take a new key, unless one was taken before."""
    with open_store(folder) as store:
        if len(store.holdings.own_tablets()) == 1:
            store.holdings.begin_anew()
        acknowledge("begun anew")


def meet(folder: Path, acknowledge: Acknowledge) -> None:
    """Exchange with the share: what we have goes out, what another sent comes in."""
    with open_store(folder) as store:
        exchange(Meeting(LocalFolder(folder / SHARE), store.holdings))
        acknowledge("exchanged")


def put(folder: Path, acknowledge: Acknowledge) -> None:
    """Put one file into a share, and say how that went."""
    try:
        LocalFolder(folder).put(PUT, BYTES)
    except (NotYet, DiskTrouble) as told:
        acknowledge(type(told).__name__)
    else:
        acknowledge("put")


def a_share(folder: Path) -> None:
    """Prepare: the folder of a share, with nothing in it but that of the heads."""
    (folder / ROOT / HEADS).mkdir(parents=True)


def at_a_share(store: Store, *, segments: int = 1) -> None:
    """Prepare: a share in which another tablet has put something, and much to send."""
    store.holdings.pair(TRUST.store, TRUST.root_keys)
    other, reader = ListHoldings(2, TRUST), a_reader()
    (store.folder / SHARE).mkdir()
    folder = LocalFolder(store.folder / SHARE)
    keys = (store.holdings.tablet_key(), other.tablet_key(), reader.tablet_key())
    name, content = TRUST.next_record([enrolled(it) for it in keys], SITE_KEY)
    folder.put(STORE, STORE_JSON)
    folder.put(name.path, content)
    other.state_something()
    exchange(Meeting(folder, other))
    for begin in range(segments):
        store.ledger.add(OWN[begin::segments])
        store.sealing.seal()


def a_reader() -> ListHoldings:
    """Give a tablet that holds nothing yet, and is enrolled in that share."""
    return ListHoldings(3, TRUST)


def paired(store: Store) -> None:
    """Prepare: a share, one tablet that is believed, one that is not and is heard all the same."""
    store.holdings.pair(TRUST.store, TRUST.root_keys)
    store.holdings.take_trust(*FIRST)
    store.holdings.keep_identity(BELIEVED.identity)
    take(store.holdings, KEPT, STRANGER.identity)


def paired_and_sealed(store: Store) -> None:
    """Prepare: entries of this tablet too, some of them sealed."""
    paired(store)
    store.ledger.add(OWN[:200])
    store.sealing.seal()
    store.ledger.add(OWN[200:])
