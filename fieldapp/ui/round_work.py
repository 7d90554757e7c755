"""What the Round screen asks its worker for, and the words it writes; no widgets here."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.report.drive_picture import drive_picture
from fieldapp.report.shapes import Bolt, Drawing
from fieldapp.ui.translate import _
from fieldapp.work.entry import entry
from fieldapp.work.exceptions import BoltPlace
from fieldapp.work.round import RoundWork
from fieldapp.work.round_view import RoundView
from fieldapp.work.rounds import begin_round, last_row_m, open_round
from fieldapp.work.site import Session, Site
from schemas.findings import Assessment

STAGE_NAMES = {
    "before": "before the bolts",
    "old rows": "the two old rows",
    "rows": "rows",
    "drawn": "drawn bolts",
    "mesh": "mesh",
    "shotcrete": "shotcrete",
    "torque": "torque",
    "last": "the last row",
}


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
    line = entry(site, heading_id, site.now()).line_m
    return OpenedRound(work, _("entry to {line} m").format(line=spaced(line)))


def judged_now(work: RoundWork, at: datetime) -> Judged:
    """Assess a round as it stands, and draw it."""
    from fieldapp.assess import assess

    bundle = work.bundle(at)
    assessment = assess(bundle)
    return Judged(work, assessment, drive_picture(bundle, assessment))


def round_words(work: RoundWork) -> str:
    """Say which round it is: number, chainages, standard."""
    seen = work.seen
    reach = f"{spaced(seen.joint_m)} – {spaced(last_row_m(seen))} m"
    standard = f"{work.standard.code} rev {work.standard.revision}"
    return f"Round {seen.number} · {reach} · {standard} · {work.support_class.code}"


def stage_words(view: RoundView) -> str:
    """Say where in the round the question stands, and how many are left."""
    if view.question is None:
        return ""
    stage = STAGE_NAMES[view.question.stage]
    return _("{stage} · {left} left").format(stage=stage, left=view.left)


def review_words(view: RoundView) -> str:
    """Say what waits before a sign-off, under the key that leads there."""
    parts = []
    if view.to_fix:
        parts.append(_("{n} to fix").format(n=view.to_fix))
    if view.left:
        parts.append(_("{n} to look at").format(n=view.left))
    return ", ".join(parts) or _("all looked at")


def place_of(work: RoundWork, bolt: Bolt) -> BoltPlace:
    """Say which bolt of the round a mark on the map is."""
    s_m = Decimal(f"{bolt.s_m:.3f}")
    if bolt.row is not None:
        return BoltPlace(bolt.row, None, bolt.position, s_m)
    chainages = [float(row.chainage_m) for row in work.seen.old_rows]
    index = min(range(len(chainages)), key=lambda i: abs(chainages[i] - bolt.x_m), default=None)
    return BoltPlace(None, index, bolt.position, s_m)


def row_at(work: RoundWork, x_m: Decimal) -> int:
    """Give the row nearest a chainage."""
    chainage, nearest, least = work.seen.joint_m, 1, None
    spacing = work.support_class.pattern.row_spacing_m
    read = {row.number: row.ahead_of_row_before for row in work.seen.rows}
    for number in range(1, work.seen.rows_planned + 1):
        ahead = read.get(number)
        chainage += ahead.value_m if ahead else spacing
        off = abs(chainage - x_m)
        if least is None or off < least:
            nearest, least = number, off
    return nearest


def spaced(chainage_m: Decimal) -> str:
    """Write a chainage to 0.1 m, thousands apart: "1 385.4"."""
    return f"{chainage_m.quantize(Decimal('0.1')):,f}".replace(",", " ")
