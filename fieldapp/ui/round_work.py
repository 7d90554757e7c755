"""What the Round screen asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.entry.state import EntryState
from fieldapp.assess.readings import last_row_m
from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.shapes import Bolt, Drawing, RowFrame
from fieldapp.report.words.entry import entry_said
from fieldapp.report.words.findings import BETWEEN, NO_BREAK
from fieldapp.report.words.lengths import Units, in_units, span_words
from fieldapp.report.words.read_and_today import round_moved_m
from fieldapp.ui.figures import metres
from fieldapp.ui.translate import _, counted
from fieldapp.work.authority import ENGINEER
from fieldapp.work.entry import entry
from fieldapp.work.exceptions import BoltPlace
from fieldapp.work.questions import Question
from fieldapp.work.round import RoundWork
from fieldapp.work.round_view import RoundView
from fieldapp.work.rounds import begin_round, open_round
from fieldapp.work.site import Session, Site
from schemas.findings import Assessment, Finding
from schemas.numbers import SAID_M, rounded


@dataclass(frozen=True)
class OpenedRound:
    """A round, open for touches, and where entry stands in its heading."""

    work: RoundWork
    entry: "EntryNow"


@dataclass(frozen=True)
class EntryNow:
    """Where entry stands in a round's heading while somebody looks at the round."""

    line: str
    held: str
    """What holds it back whatever is signed here; empty where nothing does."""


@dataclass(frozen=True)
class Judged:
    """What the worker found out about one moment of a round."""

    work: RoundWork
    assessment: Assessment
    drawing: Drawing
    loads: Drawing | None = None
    """What each bolt carries; for engineers, and only where the class demands it."""


def opened_round(site: Site, heading_id: str, session: Session | None) -> OpenedRound:
    """Go on with a heading's round, or begin the next one."""
    known = open_round(site, heading_id)
    work = known.work if known else begin_round(site, heading_id, session)
    return OpenedRound(work, entry_now(site, heading_id))


def entry_now(site: Site, heading_id: str) -> EntryNow:
    """Say how far people may go in a heading now, and what no sign-off there ends."""
    state, units = entry(site, heading_id, site.now()), site.settings.units
    return EntryNow(entry_words(state, units), held_words(state.stays, units))


def entry_words(state: EntryState, units: Units) -> str:
    """Say how far people may go, where the line alone has room; its unit is not torn from it."""
    line = entry_said(state, units).at.replace(" ", NO_BREAK)
    return _("entry to {line}").format(line=line)


def held_words(reasons: Sequence[str], units: Units) -> str:
    """Say in one line what holds entry back whatever is signed, the strictest first."""
    if not reasons:
        return ""
    first, more = _(in_units(reasons[0], units)), len(reasons) - 1
    also = _("; and {n} more, see Entry").format(n=more) if more else ""
    return _("Holds entry, signed or not: {reason}").format(reason=first) + also


def judged_now(
    work: RoundWork, at: datetime, units: Units, session: Session | None = None
) -> Judged:
    """Assess a round as it stands, and draw it as the mine reads lengths.

    To an engineer it is drawn a second time, as what its bolts carry.
    """
    from fieldapp.assess import assess  # loads SciPy, in the worker

    bundle = work.bundle(at)
    assessment = assess(bundle)
    drawing = drive_picture(bundle, assessment, units=units)
    if session is None or not session.has(*ENGINEER):
        return Judged(work, assessment, drawing)
    from fieldapp.report.drive.loads import load_picture

    return Judged(work, assessment, drawing, load_picture(bundle, units=units))


def load_map_words(drawing: Drawing) -> str:
    """Say how the map of loads is read, below it."""
    hatches = _("crossed"), _("rising lines"), _("falling lines"), _("open")
    named = zip(hatches, drawing.cell_words, strict=True)
    return BETWEEN.join(f"{hatch}: {words}" for hatch, words in named)


def engineers_words(finding: Finding) -> str:
    """Give the figures of a finding that only engineers see; empty of any other."""
    if not finding.is_for_engineers or finding.measured is None:
        return ""
    doubt = f" ± {finding.uncertainty}" if finding.uncertainty else ""
    return f"{finding.measured}{doubt} {_(finding.unit)}, {_(finding.limit or '')}"


def carried_words(drawing: Drawing, bolt: Bolt) -> str:
    """Say what a bolt carries; empty on a map of what was found."""
    at = (bolt.x_m, bolt.s_m)
    return next((cell.words for cell in drawing.cells if (cell.x_m, cell.s_m) == at), "")


def with_row_selected(drawing: Drawing, row: int | None) -> Drawing:
    """Frame one row: 1, 2, … of the round; 0 and -1 are the old ones, 0 nearest the joint."""
    frames = (_framed(frame, selected=number == row) for number, frame in rows_of(drawing))
    return replace(drawing, rows=tuple(frames))


def _framed(frame: RowFrame, *, selected: bool) -> RowFrame:
    return replace(frame, selected=selected)


def bolt_asked(drawing: Drawing, question: Question | None) -> tuple[float, float] | None:
    """Give the place on the map of the one bolt that a question is about."""
    if question is None or question.position is None or question.row is None:
        return None
    wanted = (question.row, question.position)
    return next(
        ((it.x_m, it.s_m) for it in drawing.bolts if (it.row, it.position) == wanted), None
    )


def place_on_map(drawing: Drawing, finding: Finding) -> tuple[float, float] | None:
    """Give the place on the map that a finding speaks of first; of a row, its middle."""
    for place in finding.places:
        if place.chainage_m is not None:
            return float(place.chainage_m), float(place.s_m or 0)
        frames = [frame for frame in drawing.rows if frame.row and frame.row == place.row]
        if frames:
            return frames[0].x_m, 0.0
    return None


def round_words(work: RoundWork, units: Units) -> str:
    """Say which round it is: number, chainages, standard; begun before others, where it is today.

    There is room for one of the two on an upright tablet.
    """
    seen, name = work.seen, _(work.seen.name).capitalize()
    reach = span_words(seen.joint_m, last_row_m(seen), units, " – ")
    if last_row_m(seen) == seen.joint_m:
        reach = _("from {joint}").format(joint=metres(seen.joint_m, units))
    if by_m := round_moved_m(work.heading, seen):
        by = in_units(f"{rounded(by_m, SAID_M):+} m", units)
        return BETWEEN.join((name, _("{read}, today {by}").format(read=reach, by=by)))
    standard, revision = work.standard.code, work.standard.revision
    parts = (
        name,
        reach,
        _("{standard} rev {revision}").format(standard=standard, revision=revision),
        ", ".join(it.code for it in work.classes),
    )
    return BETWEEN.join(parts)


def review_words(view: RoundView) -> str:
    """Say what waits before a sign-off, under the key that leads there."""
    parts = []
    if view.to_fix:
        parts.append(_("{n} to fix").format(n=view.to_fix))
    if view.unseen:
        parts.append(_("{n} not looked at").format(n=view.unseen))
    elif view.left:
        parts.append(counted("{} question left", "{} questions left", view.left))
    return ", ".join(part.replace(" ", NO_BREAK) for part in parts) or _("all looked at")


def all_asked_words(work: RoundWork) -> tuple[str, str]:
    """Say what comes next where no question is open: a title and what to do."""
    if work.parents and not work.can_undo:
        return (
            _("Looked at before: what has been put right?"),
            _("Touch its finding or its bolt and answer anew. Then review and sign."),
        )
    return _("Everything was asked."), _("Review it, then sign.")


def place_of(work: RoundWork, bolt: Bolt) -> BoltPlace:
    """Say which bolt of the round a mark on the map is."""
    s_m = Decimal(f"{bolt.s_m:.3f}")
    if bolt.row is not None and bolt.row > 0:
        return BoltPlace(bolt.row, None, bolt.position, s_m)
    chainages = [float(row.chainage_m) for row in work.seen.old_rows]
    index = min(range(len(chainages)), key=lambda i: abs(chainages[i] - bolt.x_m), default=None)
    return BoltPlace(None, index, bolt.position, s_m)


def row_at(drawing: Drawing, x_m: float) -> int:
    """Give the row of the round nearest a chainage."""
    rows = [frame for frame in drawing.rows if frame.row is not None]
    nearest = min(rows, key=lambda frame: abs(frame.x_m - x_m), default=None)
    return (nearest.row if nearest else None) or 1


def rows_of(drawing: Drawing) -> list[tuple[int, RowFrame]]:
    """Give every row with its number: 1, 2, … of the round; 0 and -1 are the old ones."""
    first = 1 - sum(frame.old for frame in drawing.rows)
    return list(enumerate(drawing.rows, start=first))


def bolts_of_row(drawing: Drawing, row: int) -> list[Bolt]:
    """Give the bolts of a row from the left."""
    x_m = dict(rows_of(drawing))[row].x_m
    bolts = [
        it for it in drawing.bolts if (it.row == row if row > 0 else it.old and it.x_m == x_m)
    ]
    return sorted(bolts, key=lambda bolt: bolt.s_m)
