"""The rehab list on paper: what is done first and why, in which order, and who verified it."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.report.pages.flow import (
    Piece,
    pages_pdf,
    text_pieces,
    title_piece,
    with_what_follows,
)
from fieldapp.report.pages.laying import NOT_SAID, Laying, head_pieces, part
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.pages.tables_told import damage_photos, damage_table, due_of, repair_pieces
from fieldapp.report.words.damage import HOLDS, STANDINGS
from fieldapp.work.reporting.facts import RehabFacts, RehabLine


def rehab_pages(on: Laying, facts: RehabFacts, title: str) -> bytes:
    """Print the rehab list.

    Raises
    ------
    Stopped
        The watcher stopped it.
    """
    return pages_pdf(on.pages(title), list(_pieces(on, facts)))


def _pieces(on: Laying, facts: RehabFacts) -> Iterator[Piece]:
    name = facts.heading_name or _("Every heading")
    at = _("as at {at}").format(at=on.when(facts.as_at))
    yield from head_pieces(on, _("Rehab list"), name, (at,))
    yield from part("What is to be repaired, in this order", line_table(on, facts.lines))
    for line in facts.lines:
        yield from _line(on, line)
    if facts.verified:
        yield title_piece(_("Verified in the last 31 days"))
        for line in facts.verified:
            yield from _line(on, line)


def line_table(on: Laying, lines: Sequence[RehabLine]) -> list[Piece]:
    """Give the list itself, in the order in which it is worked."""
    columns = (
        Column(_("no."), 8, "right"),
        Column(_("priority, due"), 34),
        Column(_("heading"), 32),
        Column(_("where"), 24),
        Column(_("what"), 30),
        Column(_("how far"), 34),
        Column(_("entry beneath"), 26),
    )
    rows = [
        Row(
            (
                str(it.place),
                due_of(on, it.damages[0]) if it.damages else "P?",
                it.heading,
                on.span(it.from_m, it.to_m),
                ", ".join(dict.fromkeys(_(one.kind) for one in it.damages)) or NOT_SAID,
                _(STANDINGS[it.state]),
                _(HOLDS[it.damages[0].holds]) if it.damages else NOT_SAID,
            ),
            bold=any(one.overdue_days is not None for one in it.damages),
        )
        for it in lines
    ]
    return table(columns, rows, on.wide_mm, nothing=_("Nothing is to be repaired."))


def _line(on: Laying, it: RehabLine) -> Iterator[Piece]:
    number = _("No. {n}").format(n=it.place) if it.state != "verified" else _("Verified")
    if it.repair is not None:
        label = _("repair {label}").format(label=it.repair.label)
        title = f"{number} · {it.heading} · {label}"
        yield from with_what_follows(repair_pieces(on, it.repair, title))
    else:
        label = _("damage {label}").format(label=it.damages[0].label)
        yield title_piece(f"{number} · {it.heading} · {label}", level=2)
        yield from with_what_follows(text_pieces(_(STANDINGS[it.state]), on.wide_mm))
    nothing = _("The damage it repairs is not known here.")
    damages = damage_table(on, it.damages, nothing=nothing)
    photos = list(damage_photos(on, it.damages if it.repair is None else ()))
    yield from with_what_follows(damages) if photos else damages
    yield from photos
