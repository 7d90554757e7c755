"""A report from an office's database, whichever it is, says what the tablet's own says."""

from pathlib import Path

from fieldapp.store.office import open_office
from fieldapp.work.demo.story import MAIN
from fieldapp.work.reporting.facts import facts_bytes
from fieldapp.work.reporting.heading import heading_report, round_report
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.rehab import rehab_report
from fieldapp.work.reporting.then import Reported, of_office, of_tablet
from tests.demo_mine import PRESENT, SetClock, open_demo


def told(on: Reported) -> list[bytes]:
    month, rehab = month_report(on, "2031-05"), rehab_report(on)
    history, one_round = heading_report(on, MAIN), round_report(on, f"{MAIN} 87")
    return [facts_bytes(it) for it in (month, rehab, history, one_round)]


def test_an_office_reports_byte_for_byte_what_a_tablet_with_the_same_entries_does(
    filled: str, tmp_path: Path
) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store, open_office(filled, filled=True) as office:
        by_office = told(of_office(office, site.settings, PRESENT, None))

        assert by_office == told(of_tablet(site))
