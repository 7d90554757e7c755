"""The Shift board's lines in words, made beside the screen; no widgets here."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.entry.state import Doubt, FailedTest, UnderDeviation
from fieldapp.report.words.entry import entry_said
from fieldapp.report.words.lengths import Units, in_units
from fieldapp.ui.figures import figure
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.authority import at_one_state
from fieldapp.work.beyond import Beyond
from fieldapp.work.board import IN_DISPUTE, NO_ROUND, BoardRow, board, shift_name
from fieldapp.work.enrol.renewing import renewal
from fieldapp.work.headings import headings
from fieldapp.work.site import Site
from fieldapp.work.waiting import Waiting, waiting
from fieldapp.work.whole import not_whole
from schemas.findings import Verdict
from schemas.trouble import Trouble

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
    in_dispute: bool = False
    """Whether two people stated its last round differently."""
    went_beyond: tuple[Beyond, ...] = ()
    """Rounds in which somebody went beyond the last row, and nobody has looked into it."""

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
    not_whole: tuple[Trouble, ...] = ()
    """What of the records is missing or was altered."""
    can_be_put_back: bool = False
    trust_is_old: bool = False
    """Whether who is believed here may have been revoked long since."""

    @property
    def next_line(self) -> BoardLine | None:
        """The heading that the main key goes to: a round that is open, else one that waits."""
        order = ("go on", "begin", "look again")
        waiting_ones = [line for line in self.lines if line.waits.what in order]
        return min(waiting_ones, key=lambda line: order.index(line.waits.what), default=None)


def board_now(site: Site, at: datetime) -> Board:
    """Look at every heading."""
    lines, lacking = _lines(site, at), site.store.wholeness.lacking
    renewed = renewal(site)
    return Board(
        shift=_(shift_name(site, at)),
        mine=site.mine.name,
        lines=lines,
        not_whole=tuple(not_whole(site)),
        can_be_put_back=lacking is not None and lacking.can_be_put_back,
        trust_is_old=renewed is not None and renewed.is_old,
    )


def _lines(site: Site, at: datetime) -> tuple[BoardLine, ...]:
    """Give the lines; none where so much is missing that not even the standard is known."""
    try:
        rows = board(site, at)
        with at_one_state(site):
            known = {it.id: it for it in headings(site)}
            waits = [waiting(site, known[row.heading_id], row.open_round) for row in rows]
    except Trouble:
        if site.store.wholeness.lacking is None:
            raise
        return ()
    return tuple(_line(site, row, it) for row, it in zip(rows, waits, strict=True))


def _line(site: Site, row: BoardRow, waits: Waiting) -> BoardLine:
    units = site.settings.units
    said = entry_said(row.entry, units)
    return BoardLine(
        heading_id=row.heading_id,
        full_name=row.name,
        entry=_("to {line}").format(line=said.at),
        beyond=tuple(map(_, said.brief)),
        verdict=_verdict(row),
        last_round=tuple(_last_round(row)),
        reason=tuple(_reasons(row, units)),
        face=figure(row.face_m, units),
        waits=waits,
        in_dispute=row.last_round == IN_DISPUTE,
        went_beyond=row.beyond,
    )


def _verdict(row: BoardRow) -> str:
    """Give the mark up to the face; failed support bears one too where nothing else does."""
    failed = Verdict.REWORK if row.entry.failed_tests else None
    mark = row.mark if row.mark not in (None, Verdict.ACCEPT) else failed or row.mark
    return mark.value if mark else ""


def _last_round(row: BoardRow) -> Iterator[str]:
    """Yield what became of the last round, in fewer and fewer words."""
    said = _(row.last_round)
    if row.detail and row.signed:
        yield f"{said} · {_(row.detail)}, {_(row.signed)}"
    if row.detail:
        yield f"{said} · {_(row.detail)}"
    yield said


def _reasons(row: BoardRow, units: Units) -> Iterator[str]:
    """Yield the reasons, the strictest first, but for what the title says already.

    What closes stands before what closes nothing. What holds nobody back and must be known by
    whoever enters is never left out: that somebody went beyond the last row, failed tests of
    support, deviations, and batches in doubt.
    """
    said = (" was sent back", " was barricaded", " is not signed")
    news = [in_units(it, units) for it in row.entry.because if not it.endswith(said)]
    news = list(dict.fromkeys(said for it in news for said in (_(it), *_shorter(it))))
    beside = _beside(row)
    if not beside:
        yield from _news(row, news)
        return
    full, brief, least, word = (_listed(it) for it in zip(*beside, strict=True))
    for reason in news:
        yield f"{reason}; {full}"
        yield f"{reason}; {least}"
        yield f"{reason}; {word}"
    yield from dict.fromkeys((full, brief, least, word))


def _news(row: BoardRow, news: list[str]) -> Iterator[str]:
    if not row.entry.because and row.last_round == NO_ROUND:
        yield _("nothing fired since it was entered here")
        yield _("nothing fired here yet")
        return
    if not row.entry.because:
        yield _("every round is signed")
        yield _("all is signed")
        return
    yield from (*news, "")


def _shorter(reason: str) -> Iterator[str]:
    """Yield a reason in fewer and fewer words: without until when, for whom, and its state.

    A milder reason is no shorter way to say it: whoever reads the board takes the first.
    """
    if reason.startswith("the permission for ") and reason.endswith(" has ended"):
        yield _("permission has ended")
        return
    short = reason.partition(": ")[0].partition(" until ")[0]
    yield from _repairing(reason)
    yield from _at_a_junction(reason)
    if short.startswith("fired "):
        short = _("fired {length}").format(length=short.removeprefix("fired "))
    yield _(short)


def _at_a_junction(reason: str) -> Iterator[str]:
    """Yield from where an intersection restricts entry: what it waits for stands on its screen."""
    _before, found, said = reason.partition("restricted: cables of the junction at ")
    if found:
        where = " ".join(said.split()[:2])
        yield _("restricted from {place}: cables").format(place=where)
        return
    begins, found, _what = reason.removeprefix("restricted: ").partition(": ")
    if found and begins.startswith("junction at "):
        yield _("restricted: {place}").format(place=begins)


def _repairing(reason: str) -> Iterator[str]:
    """Yield how far a repair is behind its barrier, and where: who does it stands on Entry."""
    how_far = {
        "barricaded: repair in hand": _("repair in hand"),
        "barricaded: repair done, not yet verified": _("repair done, not yet verified"),
        "barricaded: repair refused": _("repair refused"),
    }
    for begins, said in how_far.items():
        if reason.startswith(f"{begins}, "):
            where = reason.removeprefix(f"{begins}, ").partition(" by ")[0]
            begins_m, _to, ends_m = where.removesuffix(" m").partition(" to ")
            where = f"{begins_m} m" if begins_m == ends_m else where
            yield _("{what}, {where}").format(what=said, where=where)
            yield said


def _beside(row: BoardRow) -> list[tuple[str, str, str, str]]:
    """Give what must be known beside the reasons, each in fewer and fewer words.

    A deviation is named with its end as long as there is any room; the zone goes first, as the
    clock on the glass has none.
    """
    state = row.entry
    beyond, tests = map(_beyond_words, row.beyond), state.failed_tests
    failed = map(_failed, tests) if len(tests) == 1 else _several(tests)
    return [*beyond, *failed, *map(_deviating, state.deviations), *map(_doubted, state.doubts)]


def _failed(it: FailedTest) -> tuple[str, str, str, str]:
    brief = _("failed test at {place}").format(place=it.place)
    return (_(it.title), brief, brief, _("failed test"))


def _several(tests: Sequence[FailedTest]) -> Iterator[tuple[str, str, str, str]]:
    """Name where many failed, the outermost first; how many it were is never left out."""
    if tests:
        said = _("{n} failed tests").format(n=len(tests))
        places = ", ".join(it.place for it in tests)
        yield (f"{said}: {places}", f"{said}: {tests[0].place}", said, said)


def _beyond_words(it: Beyond) -> tuple[str, str, str, str]:
    brief = _("went beyond the last row")
    return (_(it.words), brief, brief, _("beyond last row"))


def _deviating(it: UnderDeviation) -> tuple[str, str, str, str]:
    ends = _("deviation until {until}")
    brief, least = (ends.format(until=it.until), ends.format(until=it.until.partition(" UTC")[0]))
    return (_(it.title), brief, least, _("deviation"))


def _doubted(it: Doubt) -> tuple[str, str, str, str]:
    labelled, doubted = _("in doubt: batch {labels}"), _("batch in doubt")
    return (_(it.title), labelled.format(labels=it.batch), doubted, doubted)


def _listed(said: tuple[str, ...]) -> str:
    return "; ".join(dict.fromkeys(said))
