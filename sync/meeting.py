"""What every step of an exchange is given."""

from collections.abc import Callable, Collection
from dataclasses import dataclass

from sync.belief import counts
from sync.folder import NotYet, ShareFails, ShareFull, ShareReadOnly
from sync.holdings import Holdings
from sync.names import PhotoName, SegmentName
from sync.photo_shelf import PhotoShelf
from sync.visit import Visit


@dataclass
class Meeting(Visit):
    """A tablet's visit to a share: it takes what it needs, and gives what it has."""

    holdings: Holdings
    program: str = ""
    shelf: PhotoShelf | None = None
    """The photos that are kept here."""
    photos_wanted: Callable[[], Collection[PhotoName]] = frozenset
    """Which photos are wanted here, others' too; asked once every entry has come in."""
    keeps_photos: bool = False
    """Whether this machine says which photos of others it holds, as the office alone does: on
    a tablet's word nobody would look after a photo any more that the office hasn't got."""

    def tablet(self) -> str:
        """Give the id that this tablet goes by now."""
        return self.holdings.own_tablets()[-1]

    def is_believed(self) -> bool:
        """Whether the next segment of this tablet counts; else its word would never be heard."""
        held, tablet = self.holdings, self.tablet()
        last = max((it.name.seq for it in held.rows().get(tablet, ())), default=0)
        return counts(held.trust(), held.identity, tablet, last + 1)

    def took_in(self, name: SegmentName, entries: int) -> None:
        """Note that a segment is held now; one of our own that we forgot is on the share."""
        if name.tablet in self.holdings.own_tablets():
            self.holdings.set_published([name], self.now_s())
        if name.tablet == self.tablet():
            self.take_new_identity()
        super().took_in(name, entries)

    def put(self, path: str, content: bytes) -> bool:
        """Put a file, and tell whether it is there now.

        What something stands in the way of waits for the next exchange, and the others go on.
        Where nothing more can be written at all, what others sent is read all the same.
        """
        if self.outcome.only_read:
            return False
        try:
            self.folder.put(path, content)
        except NotYet:
            self.outcome.waiting.append(path)
        except (ShareReadOnly, ShareFull, ShareFails) as trouble:
            self.outcome.only_read = "\n".join(trouble.sentences())
        else:
            return True
        return False

    def remove(self, path: str) -> bool:
        """Take an own file away, and tell whether it is gone; one that is held open may stay."""
        try:
            self.folder.remove(path)
        except (NotYet, ShareReadOnly):
            return False
        return True

    def take_new_identity(self) -> None:
        """Go by a new key from now on: somebody else goes by this one."""
        self.holdings.begin_anew()
        self.outcome.new_identity = self.tablet()
