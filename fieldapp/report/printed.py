"""From the ledger to paper: the sheet of one recorded round, gathered and written.

Screen and terminal print the same sheet because both ask here.
"""

import re
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from fieldapp.assess import assess
from fieldapp.assess.entry.state import EntryState
from fieldapp.report.handover import handover_sheet
from fieldapp.report.round_sheet.whole import RoundSheet, round_sheet
from fieldapp.report.words.findings import dated_in
from fieldapp.report.words.lengths import assessment_in
from fieldapp.work.batches import doubts_of_round
from fieldapp.work.entry import entry, entry_by
from fieldapp.work.heading_record import heading_record
from fieldapp.work.judging import judged_bundle
from fieldapp.work.known import current, one
from fieldapp.work.reporting.then import Reported
from fieldapp.work.rounds import find_round
from fieldapp.work.sign import assessment_hash
from fieldapp.work.signed import deciding
from fieldapp.work.site import Sight, Site
from schemas.bodies.person import Person
from schemas.bodies.round import Round
from sync.durable import replace_file

SHEETS = "sheets"
"""Folder of the home that round sheets are written to."""


def write_sheet(site: Site, round_id: str) -> Path:
    """Write the sheet of a round as PDF, whole or not at all, and say where."""
    sheet = sheet_of(site, round_id)
    folder = site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    path = folder / f"{sheet_name(sheet)}.pdf"
    replace_file(path, round_sheet(sheet))
    return path


def write_handover(site: Site, round_id: str) -> Path:
    """Write the handover of a round as PDF, whole or not at all, and say where."""
    sheet = sheet_of(site, round_id)
    folder = site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    path = folder / f"{sheet_name(sheet)}-handover.pdf"
    replace_file(path, handover_sheet(sheet))
    return path


def sheet_name(sheet: RoundSheet) -> str:
    """Name a file by heading and round; what no file may be called becomes a stroke."""
    words = re.sub(r"[^\w-]+", "-", sheet.bundle.heading.name).strip("-")
    return f"{words}-{sheet.bundle.round.name.replace(' ', '-')}"


def sheet_of(site: Site, round_id: str) -> RoundSheet:
    """Gather everything that stands on the sheet of a round, as this tablet knows it now."""
    now = site.now()
    seen = one(site, "round", Round, round_id)[-1]
    return sheet_by(site, round_id, now, entry(site, seen.body.heading, now))


def round_reported(on: Reported, name: str) -> RoundSheet:
    """Gather a round's sheet from whatever is reported from, by its id or heading and number.

    Raises
    ------
    NoSuchRound
        Nothing of that name is recorded.
    """
    sight, seen = on.sight, find_round(on.sight, name)
    record = heading_record(sight, seen.body.heading)
    return sheet_by(sight, seen.id, on.at, entry_by(sight, record, on.at))


def sheet_by(site: Sight, round_id: str, now: datetime, state: EntryState) -> RoundSheet:
    """Gather everything that stands on the sheet of a round.

    An accepted round is judged as it was when it was signed; the hash on the sheet is then
    the one that was signed.
    """
    seen = one(site, "round", Round, round_id)[-1]
    signed = deciding(site, seen)
    bundle = judged_bundle(site, seen, signed, now)
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
        tablet=site.mine.tablet[-8:] or "in an office",
        printed_at=now,
        zone=zone,
        demo=site.mine.demo,
        doubts=doubts_of_round(site, seen.body, now),
        installers=tuple(_name(site, person_id) for person_id in seen.body.installed_by),
        sign_off=signed.body if signed else None,
        signed_by=_name(site, signed.entry.author) if signed else None,
        signed_at=signed.entry.made_at if signed else None,
        entry=state,
        units=units,
    )


def _name(site: Sight, person_id: str) -> str:
    known = current(site, "person", Person)
    return next((it.body.name for it in known if it.id == person_id), person_id)
