"""From the ledger to paper: the sheet of one recorded round, gathered and written.

Screen and terminal print the same sheet because both ask here.
"""

import re
from pathlib import Path
from zoneinfo import ZoneInfo

from fieldapp.assess import assess
from fieldapp.report.handover import handover_sheet
from fieldapp.report.lengths import assessment_in
from fieldapp.report.round_sheet import RoundSheet, round_sheet
from fieldapp.report.words import dated_in
from fieldapp.work.batches import doubts_of_round
from fieldapp.work.entry import entry
from fieldapp.work.judging import bundle_of
from fieldapp.work.known import Known, current, one
from fieldapp.work.sign import assessment_hash
from fieldapp.work.signed import STRICTEST, standing
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import in_force, of_revision
from schemas.bodies.person import Person
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.bundle import Bundle
from sync.durable import replace_file

SHEETS = "sheets"
"""Folder of the home that round sheets are written to."""


def write_sheet(site: Site, round_id: str) -> Path:
    """Write the sheet of a round as PDF, whole or not at all, and say where."""
    sheet = sheet_of(site, round_id)
    folder = site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    path = folder / f"{_file_name(sheet)}.pdf"
    replace_file(path, round_sheet(sheet))
    return path


def write_handover(site: Site, round_id: str) -> Path:
    """Write the handover of a round as PDF, whole or not at all, and say where."""
    sheet = sheet_of(site, round_id)
    folder = site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    path = folder / f"{_file_name(sheet)}-handover.pdf"
    replace_file(path, handover_sheet(sheet))
    return path


def _file_name(sheet: RoundSheet) -> str:
    """Name a file by heading and round; what no file may be called becomes a stroke."""
    words = re.sub(r"[^\w-]+", "-", sheet.bundle.heading.name).strip("-")
    return f"{words}-round-{sheet.bundle.round.number}"


def sheet_of(site: Site, round_id: str) -> RoundSheet:
    """Gather everything that stands on the sheet of a round.

    An accepted round is judged as it was when it was signed; the hash on the sheet is then
    the one that was signed.
    """
    seen = one(site, "round", Round, round_id)[-1]
    signed = _standing(site, seen)
    bundle = judged_bundle(site, seen, signed)
    assessment = assess(bundle)
    units, zone = site.settings.units, ZoneInfo(site.settings.zone)
    return RoundSheet(
        mine=site.mine.name,
        bundle=bundle,
        assessment=dated_in(assessment_in(assessment, units), zone),
        assessment_sha256=assessment_hash(assessment),
        round_id=round_id,
        round_revision=seen.entry.revision,
        recorded_by=_name(site, seen.entry.author),
        recorded_at=seen.entry.made_at,
        tablet=site.mine.tablet[-8:],
        printed_at=site.now(),
        zone=zone,
        demo=site.mine.demo,
        doubts=doubts_of_round(site, seen.body, site.now()),
        installers=tuple(_name(site, person_id) for person_id in seen.body.installed_by),
        sign_off=signed.body if signed else None,
        signed_by=_name(site, signed.entry.author) if signed else None,
        signed_at=signed.entry.made_at if signed else None,
        entry=entry(site, seen.body.heading, site.now()),
        units=units,
    )


def judged_bundle(site: Site, seen: Known[Round], signed: Known[SignOff] | None) -> Bundle:
    """Give what a recorded round was judged by, at the time of its sign-off."""
    standard = of_revision(site, seen.body.standard) or in_force(site, site.now())
    as_at = signed.body.judged_at if signed else site.now()
    return bundle_of(site, seen, standard, as_at)


def _standing(site: Site, seen: Known[Round]) -> Known[SignOff] | None:
    """Give the sign-off that counts: the strictest where several do, none that is forged."""
    signed = standing(site, [seen])
    return max(signed, key=lambda it: STRICTEST.index(it.body.decision), default=None)


def _name(site: Site, person_id: str) -> str:
    known = current(site, "person", Person)
    return next((it.body.name for it in known if it.id == person_id), person_id)
