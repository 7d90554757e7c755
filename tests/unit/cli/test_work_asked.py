"""Times of the work that can hardly be so, in a bundle that is recorded at a terminal."""

import json
from pathlib import Path

import pytest

from tests.demo_mine import CODES
from tests.unit.cli.bundles import changed, round_65, written
from tests.unit.cli.conftest import Terminal

AHEAD = {"started_at": "2999-01-01T08:00:00Z"}


@pytest.mark.parametrize("decision", [(), ("--sign", "sent back")])
def test_work_that_was_started_ahead_in_time_is_kept_and_asked_about(
    decision: tuple[str, ...], lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    bundle = changed(written(tmp_path / "round-65.json", round_65()), work=AHEAD)
    who = ("--as", "Day supervisor", "--home", home)
    told = lastrow("record", bundle, *decision, *who, typed=f"{CODES['Day supervisor']}\n")
    kept = lastrow("export", "--kind", "round", "--home", home).out.splitlines()[-1]

    assert "start at 08:00 on 1 Jan 2999, which is still to come: was it so?" in told.out
    assert "put it right in the bundle and record the round again." in told.out
    assert json.loads(kept)["body"]["work"]["started_at"] == AHEAD["started_at"]
