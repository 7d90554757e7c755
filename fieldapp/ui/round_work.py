"""What the Round screen asks its worker for, and the words it writes; no widgets here."""

from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.readings import last_row_m
from fieldapp.report.drive_picture import drive_picture
from fieldapp.report.lengths import Units
from fieldapp.report.shapes import Bolt, Drawing, RowFrame
from fieldapp.report.words import BETWEEN, NO_BREAK
from fieldapp.ui.figures import line, metres
from fieldapp.ui.translate import _
from fieldapp.work.entry import entry
from fieldapp.work.exceptions import BoltPlace
from fieldapp.work.questions import Question
from fieldapp.work.round import RoundWork
from fieldapp.work.round_view import RoundView
from fieldapp.work.rounds import begin_round, open_round
from fieldapp.work.site import Session, Site
from schemas.findings import Assessment, Finding


@dataclass(frozen=True)
class OpenedRound:
    """A round, open for touches, and where entry stands in its heading."""

    work: RoundWork
    entry_words: str


@dataclass(frozen=True)
class Judged:
    """What the worker found out about one moment of a round."""

    work: RoundWork
    assessment: Assessment
    drawing: Drawing


def opened_round(site: Site, heading_id: str, session: Session | None) -> OpenedRound:
    """Go on with a heading's round, or begin the next one."""
    known = open_round(site, heading_id)
    work = known.work if known else begin_round(site, heading_id, session)
    return OpenedRound(work, entry_line_words(site, heading_id))


def entry_line_words(site: Site, heading_id: str) -> str:
    """Say how far people may go in a heading now."""
    line_m = entry(site, heading_id, site.now()).line_m
    return _("entry to {line}").format(line=line(line_m, site.settings.units))


def judged_now(work: RoundWork, at: datetime, units: Units) -> Judged:
    """Assess a round as it stands, and draw it as the mine reads lengths."""
    from fieldapp.assess import assess  # loads SciPy, in the worker

    bundle = work.bundle(at)
    assessment = assess(bundle)
    return Judged(work, assessment, drive_picture(bundle, assessment, units=units))


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
    """Say which round it is: number, chainages, standard."""
    seen = work.seen
    joint, last = metres(seen.joint_m, units), metres(last_row_m(seen), units)
    reach = f"{joint.removesuffix(' m')} – {last}"
    if last == joint:
        reach = _("from {joint}").format(joint=joint)
    standard, revision = work.standard.code, work.standard.revision
    parts = (
        _("Round {number}").format(number=seen.number),
        reach,
        _("{standard} rev {revision}").format(standard=standard, revision=revision),
        work.support_class.code,
    )
    return BETWEEN.join(parts)


def review_words(view: RoundView) -> str:
    """Say what waits before a sign-off, under the key that leads there."""
    parts = []
    if view.to_fix:
        parts.append(_("{n} to fix").format(n=view.to_fix))
    if view.left:
        parts.append(_("{n} to look at").format(n=view.left))
    return ", ".join(part.replace(" ", NO_BREAK) for part in parts) or _("all looked at")


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
