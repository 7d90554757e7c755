"""The table of a heading's intersections."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.pages.flow import Piece, text_pieces
from fieldapp.report.pages.laying import NOT_SAID, Laying
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.work.reporting.told_of_intersections import IntersectionTold
from schemas.findings import Verdict


def intersection_pieces(on: Laying, told: Sequence[IntersectionTold]) -> Iterator[Piece]:
    """Give each intersection, how far its cables are, and what the standard says of it."""
    columns = (
        Column(_("label"), 32),
        Column(_("from – to"), 26),
        Column(_("span in plan"), 18, "right"),
        Column(_("class, cables"), 24),
        Column(_("how far"), 36),
        Column(_("what it waits for, and what is worst"), 52),
    )
    rows = [Row(tuple(_cells(on, it)), VERDICT_MARKS[_verdict(it)]) for it in told]
    yield from table(columns, rows, on.wide_mm, nothing="")
    note = _("Judged flat, in plan: along the rock distances between bolts are no smaller.")
    yield from text_pieces(note, on.wide_mm, above_mm=1.0)


def _cells(on: Laying, it: IntersectionTold) -> Iterator[str]:
    yield it.label
    yield on.span(it.from_m, it.to_m)
    yield NOT_SAID if it.span_m is None else on.metres(it.span_m)
    yield f"{it.support_class}, {it.cables} × {it.cable}"
    yield _how_far(on, it)
    yield _state(on, it)


def _how_far(on: Laying, it: IntersectionTold) -> str:
    if it.step == "planned":
        return _("planned")
    said = _("{n} of {m} {step}, {when}").format(
        n=it.done, m=it.cables, step=_(it.step), when=on.when(it.done_at)
    )
    by = _("signed by {who}").format(who=it.signed_by) if it.signed_by else ""
    return "; ".join(filter(None, (said, by)))


def _state(on: Laying, it: IntersectionTold) -> str:
    waits = _("restricted: cables {why}").format(why=_(it.cables_wait)) if it.cables_wait else ""
    opened = _("opened {when}").format(when=on.when(it.opened_at)) if it.opened_at else ""
    now = _("in force now: {words}").format(words=_(it.in_force_now)) if it.in_force_now else ""
    by = _("by {standard}: {what}").format(
        standard=it.standard or NOT_SAID, what=on.words(it.because) or _("nothing against it")
    )
    return "; ".join(filter(None, (waits, by, now, opened)))


def _verdict(it: IntersectionTold) -> Verdict:
    worst = it.verdict or Verdict.ACCEPT
    waits = Verdict.REWORK if it.cables_wait else Verdict.ACCEPT
    return max(worst, waits, key=lambda one: one.gravity)
