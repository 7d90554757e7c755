"""How much of what was stated here has arrived elsewhere, and what has not gone out yet."""

from pathlib import Path

import pytest

from fieldapp.report.words.exchange import delivered_line
from fieldapp.work.share.delivered import delivered
from tests.share.sites import say, sites_in


def test_what_was_stated_since_the_last_exchange_is_held_by_no_other_machine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with sites_in(tmp_path, monkeypatch) as sites:
        tablet = sites.tablet("Tablet 1")
        sites.meet_often(tablet)
        before = delivered_line(delivered(tablet))
        say(tablet, "RB24-1")
        since = delivered_line(delivered(tablet))
        sites.meet_often(tablet)
        after = delivered_line(delivered(tablet))

    assert since == "1 thing that was stated here has not gone out yet: share now."
    assert before == after == "Everything stated here is held by another machine too."
