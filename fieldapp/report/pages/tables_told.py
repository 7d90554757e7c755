"""The tables that reports have in common: rounds, findings, damage, repairs, events, months."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.pages.flow import Piece, text_pieces, title_piece, with_what_follows
from fieldapp.report.pages.laying import NOT_SAID, Laying, photo_pieces
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.round_sheet.code import sheet_code
from fieldapp.report.words.damage import HOLDS, STANDINGS, WALKED, extent_words
from fieldapp.report.words.findings import counted, with_role
from fieldapp.report.words.lengths import chainage_words
from fieldapp.work.reporting.facts import (
    MonthTold,
)
from fieldapp.work.reporting.told import (
    DamageTold,
    EventTold,
    PhotoTold,
    RepairTold,
    RoundTold,
)

MOST_PHOTOS = 4
"""So many photos of one damage, or of one side of a repair, are printed: the rest is counted."""


def round_table(on: Laying, rounds: Sequence[RoundTold], *, judged: bool = True) -> list[Piece]:
    """Give the rounds: where, who decided what and when; judged, with each one's sheet code."""
    columns = (
        Column(_("round"), 9),
        Column(_("from – to"), 19),
        Column(_("recorded"), 22),
        Column(_("decided"), 42),
        Column(_("last row to face"), 12, "right"),
        *((Column(_("judged"), 26), Column(_("sheet code"), 29)) if judged else ()),
    )
    rows = [
        Row(
            (
                str(it.mark),
                on.span(it.joint_m, it.last_row_m),
                f"{on.when(it.recorded_at)}, {it.recorded_by}",
                _decided(on, it),
                on.metres(it.last_row_to_face_m),
                *((_judged(it), _sheet_code(it)) if judged else ()),
            ),
            VERDICT_MARKS[it.verdict] if it.verdict else None,
        )
        for it in rounds
    ]
    return table(columns, rows, on.wide_mm, nothing=_("No round was recorded."))


def _decided(on: Laying, it: RoundTold) -> str:
    if it.decision is None or it.signed_by is None or it.role is None:
        return _("NOT SIGNED")
    fits = _("signature fits") if it.signature_fits else _("SIGNATURE DOES NOT FIT")
    parts = [_(it.decision), with_role(it.signed_by, it.role), on.when(it.signed_at), fits]
    if it.first_decision and it.first_decision != it.decision:
        parts.append(_("first {decision}").format(decision=_(it.first_decision)))
    if it.in_dispute:
        parts.append(_("IN DISPUTE"))
    return " · ".join(parts)


def _sheet_code(it: RoundTold) -> str:
    return sheet_code(it.id, it.assessment).readable if it.assessment else NOT_SAID


def _judged(it: RoundTold) -> str:
    if it.verdict is None:
        return _("not judged here")
    return f"{_(it.headline)} ({it.standard})"


def finding_table(on: Laying, rounds: Sequence[RoundTold]) -> list[Piece]:
    """Give every finding that was not plainly accepted, with its reason."""
    columns = (
        Column(_("round"), 10),
        Column(_("finding"), 34),
        Column(_("measured"), 20),
        Column(_("limit"), 20),
        Column(_("where"), 34),
        Column(_("because"), 34),
        Column(_("to be done"), 40),
    )
    rows = [
        Row(
            (
                str(it.mark),
                f"{_(one.title)}: {_(one.verdict.value)}",
                on.words(one.measured) or NOT_SAID,
                on.words(one.limit) or NOT_SAID,
                _(on.words(one.places)) or NOT_SAID,
                one.because,
                on.words("; ".join([*map(_, one.fix), *filter(None, [one.deviation])]))
                or NOT_SAID,
            ),
            VERDICT_MARKS[one.verdict],
        )
        for it in rounds
        for one in it.findings
    ]
    nothing = _("Everything that was looked at in these rounds was accepted.")
    return table(columns, rows, on.wide_mm, nothing=nothing)


def damage_table(on: Laying, damages: Sequence[DamageTold], *, nothing: str) -> list[Piece]:
    """Give damage with how soon it is repaired, why, and what entry is beneath it."""
    columns = (
        Column(_("label"), 27),
        Column(_("what"), 26),
        Column(_("where"), 34),
        Column(_("first seen, last seen"), 28),
        Column(_("priority, due"), 26),
        Column(_("entry beneath"), 24),
        Column(_("because"), 47),
    )
    rows = [
        Row(
            (
                it.label,
                ", ".join(filter(None, (_(it.kind), extent_words(it.extent, on.units)))),
                f"{on.span(it.from_m, it.to_m)}, {_(it.zone)}",
                _seen(on, it),
                due_of(on, it),
                _(HOLDS[it.holds]) if it.outcome != "restored" else NOT_SAID,
                on.words("; ".join(it.because)),
            ),
            bold=it.overdue_days is not None and it.outcome != "restored",
        )
        for it in damages
    ]
    return table(columns, rows, on.wide_mm, nothing=nothing)


def _seen(on: Laying, it: DamageTold) -> str:
    """Say when it was seen first and last, and how it stood on the last walk past it."""
    seen = f"{on.day(it.first_seen_at)}, {on.day(it.last_seen_at)} "
    seen += f"({counted(it.observations, 'look')})"
    if it.walked_at is None or it.walked_said is None:
        return seen
    return f"{seen}; {_(WALKED[it.walked_said]).format(day=on.day(it.walked_at))}"


def due_of(on: Laying, it: DamageTold) -> str:
    """Say how soon a damage is repaired, or that it was."""
    if it.outcome == "restored":
        return _("restored")
    code = it.priority or "P?"
    if it.due_on is None:
        said = _("the engineer decides")
    elif it.overdue_days is None:
        said = _("due {day}").format(day=on.day(it.due_on))
    else:
        said = _("OVERDUE since {day}").format(day=on.day(it.due_on))
    patched = f", {_('patched')}" if it.outcome == "patched" else ""
    return f"{code}, {said}{patched}"


def repair_pieces(on: Laying, it: RepairTold, title: str) -> Iterator[Piece]:
    """Give one repair: how far it is, in which order it is done, who verified it, its photos."""
    yield title_piece(title, level=2)
    words = [piece for said in _repair_words(on, it) for piece in text_pieces(said, on.wide_mm)]
    photos = list(photo_pieces(on, _sides(on, it)))
    yield from with_what_follows(words) if photos else words
    yield from photos


def _repair_words(on: Laying, it: RepairTold) -> Iterator[str]:
    zones = ", ".join(map(_, it.zones))
    where = ", ".join(filter(None, (on.span(it.from_m, it.to_m), zones)))
    labels = ", ".join(it.damages)
    yield f"{where} · {_(STANDINGS[it.state])} · " + _("repairs {labels}").format(labels=labels)
    if it.order_of_work:
        yield _("Order of work: {words}").format(words=it.order_of_work)
    done = [
        _("by {name}").format(name=it.crew) if it.crew else "",
        _("barrier {where}").format(where=it.barrier) if it.barrier else "",
        _("begun {at}").format(at=on.when(it.started_at)) if it.started_at else "",
        _("done {at}").format(at=on.when(it.finished_at)) if it.finished_at else "",
        _(it.outcome) if it.outcome else "",
        counted(it.bolts_added, "bolt added") if it.bolts_added == 1 else "",
        f"{it.bolts_added} bolts added" if it.bolts_added and it.bolts_added > 1 else "",
        f"{it.lap_openings} openings of lap" if it.lap_openings is not None else "",
        ", ".join(it.materials),
    ]
    if any(done):
        yield " · ".join(filter(None, done))
    if it.verified_by and it.role:
        who = with_role(it.verified_by, it.role)
        yield _("Verified by {who}, {at}, signed.").format(who=who, at=on.when(it.verified_at))
    elif it.refused_because:
        yield _("Refused or reopened: {why}").format(why=it.refused_because)
    else:
        yield _("Nobody has verified it yet.")


def _sides(on: Laying, it: RepairTold) -> list[tuple[str, PhotoTold]]:
    """Give photos from before and after beside each other, as far as there are pairs."""
    before, after = it.before[:MOST_PHOTOS], it.after[:MOST_PHOTOS]
    said = [(_("before the work, {taken}"), before), (_("after the work, {taken}"), after)]
    told = [[(words.format(taken=on.taken(one)), one) for one in side] for words, side in said]
    pairs = [one for pair in zip(*told, strict=False) for one in pair]
    both = min(map(len, told))
    return [*pairs, *told[0][both:], *told[1][both:]]


def damage_photos(
    on: Laying, damages: Sequence[DamageTold], most: int = MOST_PHOTOS
) -> Iterator[Piece]:
    """Give the newest photos of damage that is not restored, so many of each, with its label."""
    photos = [
        (f"{it.label}, {_(it.kind)}, {on.taken(one)}{_left_out(it, most)}", one)
        for it in damages
        if it.outcome != "restored"
        for one in it.photos[-most:]
    ]
    if photos:
        yield title_piece(_("Photos of damage"), level=2)
        yield from photo_pieces(on, photos)


def _left_out(it: DamageTold, most: int) -> str:
    """Say that there are more photos of a damage than are printed."""
    if len(it.photos) <= most:
        return ""
    return ", " + _("{n} of {m} photos").format(n=most, m=len(it.photos))


def event_table(on: Laying, events: Sequence[EventTold]) -> list[Piece]:
    """Give what happened to the ground, and when somebody looked after it."""
    columns = (
        Column(_("what"), 22),
        Column(_("when"), 34),
        Column(_("at, within"), 34),
        Column(_("inspected"), 34),
        Column(_("stated by"), 30),
        Column(_("note"), 40),
    )
    rows = [
        Row(
            (
                _(it.what) + (f" {on.metres(it.fired_m)}" if it.fired_m is not None else ""),
                on.when(it.at),
                _within(on, it),
                on.when(it.inspected_at) if it.inspected_at else _not_inspected(it),
                it.stated_by,
                it.note or NOT_SAID,
            )
        )
        for it in events
    ]
    return table(columns, rows, on.wide_mm, nothing=_("No event was stated."))


def _within(on: Laying, it: EventTold) -> str:
    """Say how far an event reaches; of a stripping, from where to where and what."""
    at = chainage_words(it.chainage_m, on.units)
    if it.stripped is None:
        return f"{at}, ± {on.metres(it.radius_m)}"
    what = ", ".join(map(_, it.stripped.zones)) or _("all around")
    return f"{at} – {chainage_words(it.stripped.to_m, on.units)}, {what}"


def _not_inspected(it: EventTold) -> str:
    return _("not inspected since") if it.stripped is None else NOT_SAID


def month_table(on: Laying, months: Sequence[MonthTold]) -> list[Piece]:
    """Give the figures of each month, the newest first."""
    columns = (
        Column(_("month"), 20),
        Column(_("fired"), 20, "right"),
        Column(_("signed"), 20, "right"),
        Column(_("accepted first, of signed"), 28, "right"),
        Column(_("greatest last row to face"), 28, "right"),
        Column(_("damage found"), 22, "right"),
        Column(_("damage repaired"), 22, "right"),
    )
    rows = [
        Row(
            (
                it.month,
                on.metres(it.fired_m),
                on.metres(it.signed_m),
                _("{n} of {m}").format(n=it.accepted_first, m=it.signed_off),
                on.metres(it.last_row_to_face_m),
                str(it.damage_found),
                str(it.damage_repaired),
            )
        )
        for it in reversed(months)
    ]
    return table(columns, rows, on.wide_mm, nothing=_("Nothing was recorded."))
