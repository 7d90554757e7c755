"""A round as it is recorded, to be looked at: its findings, the worst first, and its drawing."""

from dataclasses import dataclass
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty

from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.printed import sheet_of
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.findings import BETWEEN, when
from fieldapp.report.words.lengths import Units
from fieldapp.ui.names import short
from fieldapp.ui.round_work import place_on_map
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.reason_row import ReasonRow
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.site import Site
from schemas.findings import Finding

__all__ = ["DriveMap", "Key", "PagedList", "RoundPanel"]


@dataclass(frozen=True)
class RoundShown:
    """What the panel shows of one round."""

    title: str
    note: str
    findings: tuple[Finding, ...]
    drawing: Drawing
    units: Units


def round_shown(site: Site, round_id: str) -> RoundShown:
    """Judge a recorded round as it was when it was signed, and draw it. Nobody is named."""
    sheet = sheet_of(site, round_id)
    seen, signed = sheet.bundle.round, sheet.sign_off
    number = _(seen.name).capitalize()
    decided = _("not signed")
    if signed is not None and sheet.signed_at is not None:
        decided = f"{_(signed.decision)}, {when(sheet.signed_at, sheet.zone)}"
    standard = sheet.bundle.standard
    rev = _("{standard} rev {revision}").format(standard=standard.code, revision=standard.revision)
    return RoundShown(
        title=f"{short(sheet.bundle.heading.name)}{BETWEEN}{number}",
        note=BETWEEN.join((decided, rev, seen.class_said)),
        findings=sheet.assessment.findings,
        drawing=drive_picture(sheet.bundle, sheet.assessment, units=sheet.units),
        units=sheet.units,
    )


class RoundPanel(Sheet):
    """Findings beside the unrolled drive; a touch on one brings the map there."""

    wide = BooleanProperty(True)
    drawing = ObjectProperty(None, allownone=True)
    findings = ListProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, shown: RoundShown) -> None:
        row = partial(_row, shown.units)
        super().__init__(place="full", title=shown.title, note=shown.note, make_row=row)
        self.drawing, self.findings = shown.drawing, shown.findings

    def touched(self, finding: Finding) -> None:
        """Bring the map to where a finding is."""
        place = place_on_map(self.drawing, finding)
        if place is not None:
            self.ids.map.focus(*place)


def _row(units: Units, finding: Finding) -> ReasonRow:
    row = ReasonRow()
    row.tell(finding, units)
    return row
