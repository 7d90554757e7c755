"""What is missing of what was kept here, and which headings that touches.

Apart from what finds it out, so that the jobs of the day can name it without loading the
database.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from schemas.trouble import DiskTrouble
from sync.names import SegmentName


@dataclass(eq=False)
class RecordsNotWhole(DiskTrouble):
    """Something that was kept here is missing, or was changed by something else."""

    what: str
    way_on: str
    happened = "These records are not whole: {what}."
    kept = "What is left is as it was stated; where something may be missing, entry is not known."
    do_next = "Ask in the heading before anybody goes in, and ask who had this tablet. {way_on}."


@dataclass(frozen=True)
class Lacking:
    """What is missing, or is not what it was."""

    entries: int = 0
    """How many, as far as it can be told."""
    headings: frozenset[str] | None = None
    """Those that are touched; None where it can't be told: it may be every heading."""
    segments: tuple[SegmentName, ...] = ()
    """Ends of rows that this tablet sealed, and that are not here from their first segment."""
    shared: int = 0
    """Segments that were put into the share, or said to be held, and are not here."""
    mark: bool = False
    """The mark beside the database is gone, or is not this tablet's."""
    can_be_put_back: bool = False
    left_out: frozenset[int] = frozenset()
    """The places of entries that are not what was stated."""

    def touches(self, heading: str) -> bool:
        """Whether something about a heading may be missing."""
        return self.headings is None or heading in self.headings

    def told(self) -> RecordsNotWhole:
        """Say it in three sentences."""
        way_on = "To go on with a backup and what is left: lastrow restore --newest"
        if self.can_be_put_back:
            way_on = "To put back what was sealed: lastrow selfcheck --put-back"
        return RecordsNotWhole(" and ".join(self._what()) or _BY_SOMETHING_ELSE, way_on)

    def _what(self) -> Iterator[str]:
        if self.entries:
            yield f"entries are missing or altered ({self.entries})"
        for name in self.segments:
            yield f"of the segments that this tablet sealed, 1 to {name.seq}, some are gone"
        if self.shared:
            yield f"segments that were shared are gone ({self.shared})"
        if self.mark:
            yield "the mark of what was sealed is gone or is another tablet's"


_BY_SOMETHING_ELSE = "entries were put in or changed by something else than this program"
