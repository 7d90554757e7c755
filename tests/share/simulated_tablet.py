"""Real tablets, each with its database, for the simulator: slower than the model, and proof."""

import shutil
from collections.abc import Callable, Mapping
from pathlib import Path

from fieldapp.store.opening import DATABASE, MARKER
from schemas.canonical import JsonValue
from schemas.entry import Entry, Stated, new_entry
from schemas.logical_clock import LogicalClock, LogicalTime
from sync.belief import segment_counts
from sync.names import SegmentName
from sync.segment import lines_of
from sync.trust import Trust
from tests.made import of_a_newer_version, thing_id
from tests.share.disk_tablet import DiskTablet
from tests.share.holdings import Numbers


class SimulatedTablet(DiskTablet):
    """A tablet with a database of its own, which the simulator may copy and ask.

    Parameters
    ----------
    folder : Path
        Where it lies.
    trust : Trust
        The share that it is paired with.
    numbers : iterator of int
        Gives each entry its number.
    made : list
        Where it and its copies put themselves down, to be switched off in the end.
    """

    def __init__(
        self, folder: Path, trust: Trust, numbers: Numbers, made: "list[SimulatedTablet]"
    ) -> None:
        self._numbers = numbers
        self._made = made
        super().__init__(folder, trust)
        made.append(self)

    def copied(self) -> "SimulatedTablet":
        """Give a copy, as an image of the tablet's disk is one."""
        folder = self._folder.with_name(f"copy {len(self._made)}")
        folder.mkdir()
        for name in (DATABASE, MARKER):
            shutil.copy(self._folder / name, folder / name)
        return SimulatedTablet(folder, self._paired_with, self._numbers, self._made)

    def brought_back(self) -> "SimulatedTablet":
        """Give what comes back from a backup that was made now."""
        folder = self.folder_brought_back(self._folder.with_name(f"back {len(self._made)}"))
        return SimulatedTablet(folder, self._paired_with, self._numbers, self._made)

    def state_something(
        self,
        kind: str = "event",
        body: Mapping[str, JsonValue] | None = None,
        newer: Mapping[str, JsonValue] | None = None,
    ) -> Entry:
        """State an entry here, perhaps with fields that only a newer version knows."""
        number = next(self._numbers)
        at = self.now()
        wall_ms = int(at.timestamp() * 1000)
        clock = LogicalClock(self.store.ledger.latest_clock(wall_ms) or LogicalTime(0))
        stated = Stated("p-rowan", at, "UTC", clock.tick(wall_ms).latest)
        made = new_entry(kind, 1, thing_id(number), body or {"number": number}, stated)
        if newer:
            made = of_a_newer_version(made, newer)
        self.store.ledger.add([made])
        return made

    def believed(self) -> set[bytes]:
        """Give the lines that count wherever these segments are held, reckoned anew."""
        trust = self.trust()
        rows = self.rows()
        return self._lines_where(
            lambda name: segment_counts(trust, self.identity, name, rows[name.tablet])
        )

    def shown(self) -> set[bytes]:
        """Give the lines that should count here, reckoned anew: believed ones and its own."""
        own = self.own_tablets()
        return self.believed() | self._lines_where(lambda name: name.tablet in own)

    def lines(self) -> set[bytes]:
        """Give every line that is held here, whether it counts or not."""
        return self._lines_where(lambda _name: True) | {it.line for it in self.entries}

    def _lines_where(self, wanted: Callable[[SegmentName], bool]) -> set[bytes]:
        return {
            line
            for row in self.rows().values()
            for held in row
            if wanted(held.name)
            for line in lines_of(self.content(held.name) or b"")
        }
