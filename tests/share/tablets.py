"""Tablets of each kind: the model in memory, and the real thing on the disk."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Literal, Protocol, get_args

from schemas.canonical import JsonValue
from schemas.entry import Entry
from sync.holdings import Holdings
from sync.trust import Trust
from tests.share.disk_tablet import DiskTablet
from tests.share.holdings import ListHoldings

Kind = Literal["in memory", "on the disk"]
KINDS: tuple[Kind, ...] = get_args(Kind)


class Tablet(Holdings, Protocol):
    """Holdings, and somebody who states things there."""

    @property
    def entries(self) -> list[Entry]:
        """The entries that count here."""

    def state_something(
        self, kind: str = "event", body: Mapping[str, JsonValue] | None = None
    ) -> Entry:
        """State an entry here."""

    def copied(self) -> "Tablet":
        """Give a copy, as an image of the tablet's disk is one."""

    def brought_back(self) -> "Tablet":
        """Give what comes back from a backup that was made now."""


MakeTablet = Callable[[int], Tablet]


@contextmanager
def tablets(kind: Kind, folder: Path, trust: Trust) -> Iterator[MakeTablet]:
    """Give what makes the tablet of a number, each paired with a share."""
    if kind == "in memory":
        yield lambda number: ListHoldings(number, trust)
        return
    made: list[DiskTablet] = []

    def make(number: int) -> Tablet:
        made.append(DiskTablet(folder / str(number), trust))
        return made[-1]

    yield make
    for it in made:
        it.close()
