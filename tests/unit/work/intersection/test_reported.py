"""Intersections in a heading's report: on paper, in the spreadsheet, and over the mine plan."""

from io import StringIO

import pytest
from ezdxf.filemanagement import read

from fieldapp.report.reported import Wanted, report_file
from fieldapp.work.demo.history.crossing import WHOLE
from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.reporting.facts import HeadingFacts
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.then import Reported, of_tablet
from schemas.findings import Verdict
from tests.past import Past
from tests.unit.report.pages import flat, reader_of
from tests.unit.report.test_spreadsheet import read as read_book


@pytest.fixture
def on(past: Past) -> Reported:
    return of_tablet(past.site)


@pytest.fixture
def facts(on: Reported) -> HeadingFacts:
    return heading_report(on, JUNCTION)


def test_a_heading_tells_of_its_intersections_wherever_it_is_read(
    on: Reported, facts: HeadingFacts
) -> None:
    (told,) = facts.intersections
    bolts = [it for it in told.stands if it.what == "bolt"]
    pages = reader_of(report_file(on, facts, Wanted("pdf"))).pages
    page = flat("".join(it.extract_text() for it in pages))
    sheets = read_book(facts)
    drawing = read(StringIO(report_file(on, facts, Wanted("dxf")).decode()))
    there = drawing.modelspace()

    assert (told.step, told.done, told.cables_wait) == ("plated", WHOLE.cables, "")
    assert (told.verdict, told.because, told.in_force_now) == (Verdict.ACCEPT, "", "")
    assert (told.standard, told.signed_by) == ("S-2 revision 5", "Night supervisor")
    assert flat(f"{told.label}") in page
    assert flat("8 of 8 plated") in page
    assert flat("Judged flat, in plan") in page
    assert [it["label"] for it in sheets["intersections"]] == [told.label]
    assert len(sheets["in plan"]) == len(told.stands)
    assert len(there.query('POINT[layer=="intersection bolts"]')) == len(bolts)
    assert len(there.query('POINT[layer=="intersection cables"]')) == WHOLE.cables
    assert len(there.query('POLYLINE[layer=="intersections"]')) == 1
