"""What reports are gathered from: records as at a time, and months by the mine's own clock."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from fieldapp.work.reporting.months import end_of, month_of, months_between, start_of
from fieldapp.work.reporting.then import LedgerThen
from tests.made import entry
from tests.stand_ins import ListLedger


def test_what_was_made_later_was_not_known_then_unless_a_clock_runs_ahead() -> None:
    before, later, ahead = entry(0), entry(1), entry(2)
    ledger = ListLedger()
    ledger.add([before, later, ahead])
    then = LedgerThen(ledger, before.made_at, later.made_at)

    assert set(then.all()) == {before, ahead}
    assert then.get(later.revision) is None
    assert then.get(before.revision) == before


def test_a_month_begins_and_ends_by_the_mine_s_own_clock() -> None:
    zone = ZoneInfo("Australia/Perth")

    assert month_of(datetime(2031, 4, 30, 16, 30, tzinfo=UTC), zone) == "2031-05"
    assert start_of("2031-05", zone) == datetime(2031, 4, 30, 16, tzinfo=UTC)
    assert end_of("2031-12", zone) == datetime(2031, 12, 31, 16, tzinfo=UTC)


def test_no_month_is_left_out_between_the_first_and_the_last() -> None:
    assert months_between("2030-11", "2031-02") == ("2030-11", "2030-12", "2031-01", "2031-02")
