"""The tables of condition walks and of tests of support."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.assess.bolt_tests.result import MARKS
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.pages.flow import Piece, text_pieces
from fieldapp.report.pages.laying import NOT_SAID, Laying, photo_pieces
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.pages.tables_told import MOST_PHOTOS
from fieldapp.report.words.bolt_test import KINDS
from fieldapp.report.words.findings import month_words, sentence
from fieldapp.report.words.lengths import chainage_words
from fieldapp.report.words.take_off import plain
from fieldapp.work.reporting.facts import SteelTold, TestsDue, TestTold, WalkDue, WalkTold
from fieldapp.work.walk.rate_words import BESIDE


def walk_pieces(on: Laying, walks: Sequence[WalkTold], due: WalkDue | None) -> Iterator[Piece]:
    """Give the outings, and what is due and late still."""
    yield from text_pieces(due_words(due), on.wide_mm)
    yield from walk_table(on, walks)


def walk_table(on: Laying, walks: Sequence[WalkTold]) -> list[Piece]:
    """Give the outings, the newest first."""
    columns = (
        Column(_("plan of"), 22),
        Column(_("begun"), 32),
        Column(_("by"), 38),
        Column(_("from – to"), 30),
        Column(_("sections"), 16, "right"),
        Column(_("something new"), 18, "right"),
        Column(_("not reached"), 18, "right"),
        Column(_("damage recorded"), 20, "right"),
    )
    rows = [
        Row(
            (
                month_words(it.month),
                on.when(it.began_at),
                it.by,
                "; ".join(on.span(one.from_m, one.to_m) for one in it.stretches),
                str(it.sections),
                str(it.something_new),
                str(it.not_reached),
                str(it.damages),
            )
        )
        for it in reversed(walks)
    ]
    return table(columns, rows, on.wide_mm, nothing=_("Nobody walked here."))


def due_words(due: WalkDue | None) -> str:
    """Say how much of a walk is due still, and how late it is."""
    if due is None:
        return _("No standard in force says how often old support is walked.")
    if not due.due:
        return _("Nothing of {n} sections is due by the end of the month.").format(n=due.sections)
    said = _("{due} of {n} sections are due by the end of the month, {late} of them late").format(
        due=due.due, n=due.sections, late=due.late
    )
    if due.late:
        said += _(", the latest by {days} days").format(days=due.latest_days)
    never = _("; {n} never looked at").format(n=due.never_looked_at)
    return f"{said}{never if due.never_looked_at else ''}."


def steel_pieces(on: Laying, steel: Sequence[SteelTold]) -> Iterator[Piece]:
    """Give what is left of steel, read or by its age, and how fast it goes beside ISO 9223."""
    columns = (
        Column(_("steel"), 30),
        Column(_("where"), 34),
        Column(_("read last"), 36),
        Column(_("left of its capacity"), 44),
        Column(_("how fast"), 50),
    )
    rows = [
        Row(
            (
                f"{_(it.part)}, {_(it.steel)} {plain(it.new_mm)} mm",
                _where(on, it),
                _read_last(on, it),
                it.words,
                "; ".join(it.how_fast) or NOT_SAID,
            )
        )
        for it in steel
    ]
    yield from table(columns, rows, on.wide_mm, nothing=_("Of no steel is known what is left."))
    if any(it.how_fast for it in steel):
        yield from text_pieces(sentence(BESIDE), on.wide_mm)


def _where(on: Laying, it: SteelTold) -> str:
    if it.to_m is not None:
        return on.span(it.chainage_m, it.to_m)
    return chainage_words(it.chainage_m, on.units) + (f", {_(it.zone)}" if it.zone else "")


def _read_last(on: Laying, it: SteelTold) -> str:
    if it.last_read_at is None or it.last_read_mm is None:
        return _("nobody read it: the oldest of it")
    return f"{plain(it.last_read_mm)} mm, {on.when(it.last_read_at)}"


def test_pieces(on: Laying, tests: Sequence[TestTold], due: Sequence[TestsDue]) -> Iterator[Piece]:
    """Give the tests that were made, with what they came to, and those that are due."""
    for it in due:
        yield from text_pieces(_due(on, it), on.wide_mm)
    columns = (
        Column(_("test"), 24),
        Column(_("made"), 30),
        Column(_("where"), 34),
        Column(_("came to"), 22),
        Column(_("measured"), 42),
        Column(_("demanded"), 42),
    )
    rows = [
        Row(
            (
                ", ".join(filter(None, (_(KINDS[it.kind]), it.bolt_type))),
                f"{on.when(it.tested_at)}, {_(it.why)}",
                f"{chainage_words(it.chainage_m, on.units)}, {_(it.zone)}",
                _(it.outcome),
                _measured(on, it),
                ", ".join(filter(None, (on.words(it.limit), it.clause))) or NOT_SAID,
            ),
            VERDICT_MARKS[MARKS[it.outcome]],
        )
        for it in tests
    ]
    yield from table(columns, rows, on.wide_mm, nothing=_("No test was recorded."))
    taken = [
        (f"{it.label}, {_(KINDS[it.kind])}, {on.taken(one)}", one)
        for it in tests
        for one in it.photos[-MOST_PHOTOS:]
    ]
    yield from photo_pieces(on, taken)


def _measured(on: Laying, it: TestTold) -> str:
    """Say what was measured, and over how long the tablet was touched for it."""
    said = on.words(it.because)
    if it.touched_over_s is None:
        return said
    minutes, seconds = divmod(it.touched_over_s, 60)
    over = _("touched over {minutes} min {seconds} s").format(minutes=minutes, seconds=seconds)
    return f"{said}; {over}"


def _due(on: Laying, it: TestsDue) -> str:
    what = ", ".join(filter(None, (_(KINDS[it.kind]), it.bolt_type)))
    said = _("Due: {what}: {n} of {m} to be made, {where}; {why}.")
    where = on.span(it.from_m, it.to_m)
    return said.format(n=it.tests, m=it.of, what=what, where=where, why=on.words(it.because))
