"""How long the terminal's door takes to open, and the app until the Shift board is there."""

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from tests.bench.ratio import LEAST_TIMES, Ratio, medians_s

BUDGET_S = 0.3
BOARD_BUDGET_S = 2.0


def _python(words: str) -> None:
    subprocess.run([sys.executable, "-c", words], check=True)  # noqa: S603


def ratios() -> list[Ratio]:
    """Import the door beside a bare Python; start the app with and without years of records."""
    from tests.bench.many_entries import AT_THE_END, ENTRIES, many_entries
    from tests.demo_mine import PRESENT, demo_home

    door, bare = medians_s(lambda: _python("import fieldapp.cli"), lambda: _python("pass"))
    with tempfile.TemporaryDirectory() as folder:
        new = _started(demo_home(Path(folder) / "new"), PRESENT.isoformat())
        years = many_entries(Path(folder) / "old")
        first = [_start_s(years, AT_THE_END.isoformat())]
        old = _started(years, AT_THE_END.isoformat())
    return [
        Ratio("import fieldapp.cli", "a bare Python's start", door - bare, BUDGET_S, unit="s"),
        _board("the demo mine", new),
        _board(f"{ENTRIES:,} entries", old),
        _board(f"{ENTRIES:,} entries, all of them come in since the last start", first),
    ]


def _board(records: str, starts_s: list[float]) -> Ratio:
    beside = "the start of the process; a finger picks the name and types the code meanwhile"
    note = f"{len(starts_s)} starts" if len(starts_s) > 1 else "one start"
    what = f"start to a usable Shift board, {records}"
    return Ratio(what, beside, median(starts_s), BOARD_BUDGET_S, unit="s", note=note)


def _started(home: Path, clock: str) -> list[float]:
    return [_start_s(home, clock) for _ in range(LEAST_TIMES)]


def _start_s(home: Path, clock: str) -> float:
    began = time.time()
    ended = subprocess.run(  # noqa: S603
        [sys.executable, "-m", "tests.ui.app_process", str(home), "board", clock],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "KIVY_HOME": str(home.parent / "kivy")},
    )
    lines = [json.loads(line) for line in ended.stdout.splitlines() if line.startswith("{")]
    return next(float(line["at_s"]) for line in lines if line["seen"] == "board") - began
