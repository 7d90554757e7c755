"""The Shift board's lines in words, made beside the screen; no widgets here."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from fieldapp.assess.entry_state import Doubt, EntryState, State
from fieldapp.report.lengths import Units, in_units
from fieldapp.ui.figures import figure, line
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.board import BoardRow, board, shift_name
from fieldapp.work.headings import headings
from fieldapp.work.site import Site
from fieldapp.work.waiting import Waiting, waiting

BEYOND: dict[State, tuple[str, ...]] = {
    "not known": (_("not known beyond"), _("not known")),
    "restricted": (_("restricted beyond"), _("restricted")),
    "barricaded": (_("barricaded beyond"), _("barricaded")),
    "no entry, barrier not yet up": (
        _("no entry beyond, no barrier yet"),
        _("no entry, no barrier yet"),
        _("no barrier yet"),
    ),
}
ACTS = {"go on": _("Go on"), "look again": _("Look again"), "begin": _("Begin"), "nothing": ""}


@dataclass(frozen=True)
class BoardLine:
    """One heading as it stands on the board.

    Where there are several words for one thing, the longest that fits is shown.
    """

    heading_id: str
    full_name: str
    entry: str
    beyond: tuple[str, ...]
    verdict: str
    last_round: tuple[str, ...]
    reason: tuple[str, ...]
    face: str
    waits: Waiting

    @property
    def name(self) -> str:
        """The heading's name, short enough for a key."""
        return short(self.full_name)

    @property
    def act(self) -> str:
        """What a touch on the round does, in a word."""
        return ACTS[self.waits.what]


@dataclass(frozen=True)
class Board:
    """The whole board at one time."""

    shift: str
    mine: str
    lines: tuple[BoardLine, ...]

    @property
    def next_line(self) -> BoardLine | None:
        """The heading that the main key goes to: a round that is open, else one that waits."""
        order = ("go on", "begin", "look again")
        waiting_ones = [line for line in self.lines if line.waits.what in order]
        return min(waiting_ones, key=lambda line: order.index(line.waits.what), default=None)


def board_now(site: Site, at: datetime) -> Board:
    """Look at every heading."""
    known = {it.id: it for it in headings(site)}
    lines = tuple(
        _line(site, row, waiting(site, known[row.heading_id], row.open_round))
        for row in board(site, at)
    )
    return Board(_(shift_name(site, at)), site.mine.name, lines)


def _line(site: Site, row: BoardRow, waits: Waiting) -> BoardLine:
    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    return BoardLine(
        heading_id=row.heading_id,
        full_name=row.name,
        entry=entry_words(row.entry, units),
        beyond=_beyond(row, zone),
        verdict=row.mark.value,
        last_round=_last_round(row),
        reason=_reasons(row, units),
        face=figure(row.face_m, units),
        waits=waits,
    )


def entry_words(state: EntryState, units: Units) -> str:
    """Say how far people may go: "to the face", or "to 1 385.7 m", never beyond it."""
    if state.state == "entry allowed":
        return _("to the face")
    return _("to {line}").format(line=line(state.line_m, units))


def _beyond(row: BoardRow, zone: ZoneInfo) -> tuple[str, ...]:
    if row.entry.state == "entry allowed":
        return (_(row.beyond),)
    words = BEYOND[row.entry.state]
    if row.entry.state == "restricted" and row.entry.until is not None:
        clock = f"{row.entry.until.astimezone(zone):%H:%M}"
        long, brief = _("restricted until {time}"), _("until {time}")
        return (long.format(time=clock), brief.format(time=clock))
    return words


def _last_round(row: BoardRow) -> tuple[str, ...]:
    said = _(row.last_round)
    return (f"{said} · {_(row.detail)}", said) if row.detail else (said,)


def _reasons(row: BoardRow, units: Units) -> tuple[str, ...]:
    """Give the reasons, the strictest first, but for what the title says already."""
    said = (" was sent back", " was barricaded", " is not signed")
    news = [_(in_units(it, units)) for it in row.entry.because if not it.endswith(said)]
    if row.entry.doubts:
        return tuple(_doubted(row.entry.doubts, news))
    if not row.entry.because:
        return (_("every round is signed"), _("all is signed"))
    return (*news, *(reason.partition(":")[0] for reason in news), "")


def _doubted(doubts: tuple[Doubt, ...], news: list[str]) -> Iterator[str]:
    """Give what holds entry and that a batch is in doubt, which is never left out."""
    full = "; ".join(it.title for it in doubts)
    labels, one = ", ".join(it.batch for it in doubts), len(doubts) == 1
    brief = _("batch in doubt") if one else _("batches in doubt")
    for reason in dict.fromkeys((*news, *(it.partition(":")[0] for it in news))):
        yield f"{full}; {reason}"
        yield f"{brief}; {reason}"
    yield full
    yield _("in doubt: batch {labels}").format(labels=labels)
    yield brief
