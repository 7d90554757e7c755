"""What the demo mine writes into a folder: tables, sheets, handovers, pictures, bundles."""

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.assess import assess
from fieldapp.cli.bundles import bundle_bytes
from fieldapp.cli.files import file_words, write_into
from fieldapp.cli.findings import findings_table
from fieldapp.cli.table import table
from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.handover import handover_sheet
from fieldapp.report.png import drive_png
from fieldapp.report.printed import sheet_of
from fieldapp.report.round_sheet.whole import round_sheet
from fieldapp.report.words.lengths import assessment_in
from fieldapp.work.demo.scenarios import looked_at, works
from fieldapp.work.demo.story import HEADINGS
from fieldapp.work.headings import headings
from fieldapp.work.known import Known
from fieldapp.work.rounds import open_rounds, rounds
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import in_force

if TYPE_CHECKING:
    from fieldapp.report.words.lengths import Units
    from schemas.bodies.round import Round
    from schemas.bundle import Bundle
    from schemas.findings import Assessment

PX_PER_MM = 6.0
"""Fine enough for a screen and for print, and quickly painted."""


def write_pages(site: Site, folder: Path) -> None:
    """Assess each round of the last days, print the findings, and write everything there is."""
    for known in _rounds(site):
        _write_round(site, folder, known)
    for opened in open_rounds(site):
        bundle = opened.work.bundle(site.now())
        assessment = assess(bundle)
        print(findings_table(bundle, assessment_in(assessment, site.settings.units)))
        _write_bundle(folder, bundle)
        _write_picture(folder, bundle, assessment, site.settings.units)
        print("Being looked at: neither recorded nor signed yet.\n")
    _write_examples(site, folder)


def _rounds(site: Site) -> "Iterator[Known[Round]]":
    """Yield the rounds of the last days: of the past there are hundreds."""
    past = {place.name: place.last_round for place in HEADINGS}
    for place in headings(site):
        last = past.get(place.body.name, 0)
        yield from (it for it in rounds(site, place.id) if it.body.number > last)


def _write_round(site: Site, folder: Path, known: "Known[Round]") -> None:
    sheet = sheet_of(site, known.id)
    name = _name(sheet.bundle)
    print(findings_table(sheet.bundle, sheet.assessment))
    _write_bundle(folder, sheet.bundle)
    _write_picture(folder, sheet.bundle, sheet.assessment, sheet.units, sheet.entry_line_on_map_m)
    print(write_into(folder, f"{name}.pdf", round_sheet(sheet)))
    print(write_into(folder, f"{name}-handover.pdf", handover_sheet(sheet)))
    print(f"Code on the sheet: {sheet.code.readable}\n")


def _write_bundle(folder: Path, bundle: "Bundle") -> None:
    print(write_into(folder, f"{_name(bundle)}.json", bundle_bytes(bundle)))


def _write_picture(
    folder: Path,
    bundle: "Bundle",
    assessment: "Assessment",
    units: "Units",
    entry_line_m: Decimal | None = None,
) -> None:
    drawing = drive_picture(bundle, assessment, entry_line_m=entry_line_m, units=units)
    picture = drive_png(drawing, px_per_mm=PX_PER_MM)
    print(write_into(folder, f"{_name(bundle)}.png", picture))


def _name(bundle: "Bundle") -> str:
    return file_words(f"round {bundle.heading.name} {bundle.round.number}")


def _write_examples(site: Site, folder: Path) -> None:
    """Write the worked examples: rounds with one thing to see each."""
    rows = []
    standard = in_force(site, site.now())
    line = standard.entry.line.decode()
    for scenario, work in works(standard.body, site.now(), line):
        bundle = work.bundle(looked_at(work))
        name = file_words(f"round example {scenario.name}") + ".json"
        write_into(folder, name, bundle_bytes(bundle))
        rows.append((name, assess(bundle).headline))
    print("Worked examples, each a round with one thing to see:")
    for line in table(("bundle", "what it comes to"), rows, (64, 60)):
        print(f"  {line}")
    print()
