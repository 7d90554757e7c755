"""``python3 -m tests bench``: ratios to the bare libraries, measured now, in a table."""

import json
import os
import subprocess
import sys

from tests.bench.ratio import Ratio
from tests.run.place import ROOT, place_apart, surroundings
from tests.run.screen import screens
from tests.run.suite import say

HEADER = f"{'':4}  {'measured':>10}  {'budget':>12}  what · beside what"


def run(words: list[str]) -> int:
    """Measure every module of the bench, or those whose names hold one of the words."""
    broken: list[str] = []
    with place_apart() as folder, screens(broken, most=1) as (shown,):
        environ = {**surroundings(folder, dict(os.environ)), **shown}
        say(HEADER)
        for name in modules(words):
            ended = _measured(name, environ)
            if ended.returncode != 0:
                broken.append(f"{name}:\n{ended.stderr}")
            for ratio in _ratios(ended.stdout):
                say(row(ratio))
    for reason in broken:
        say(f"\nCould not be measured: {reason}")
    return 1 if broken else 0


def modules(words: list[str]) -> list[str]:
    """Give the bench's modules by name."""
    names = sorted(path.stem for path in (ROOT / "tests/bench").glob("test_*.py"))
    return [name for name in names if not words or any(word in name for word in words)]


def _measured(name: str, environ: dict[str, str]) -> "subprocess.CompletedProcess[str]":
    command = [sys.executable, "-m", "tests.bench", f"tests.bench.{name}"]
    return subprocess.run(  # noqa: S603
        command, cwd=ROOT, env=environ, capture_output=True, text=True, check=False
    )


def _ratios(printed: str) -> list[Ratio]:
    """Read what a module measured; the last line that it printed holds it."""
    lines = printed.splitlines()
    return [Ratio(**facts) for facts in json.loads(lines[-1])] if lines else []


def row(ratio: Ratio) -> str:
    """Give one line of the table; the mark says whether the budget holds."""
    mark = "met" if ratio.is_met() else "OVER"
    sign = "≤" if ratio.sense == "at most" else "≥"
    measured = f"{ratio.measured:.2f} {ratio.unit}"
    budget = f"{sign} {ratio.budget:g} {ratio.unit}"
    note = f" ({ratio.note})" if ratio.note else ""
    return f"{mark:4}  {measured:>10}  {budget:>12}  {ratio.what} · {ratio.beside}{note}"
