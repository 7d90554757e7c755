"""Bundles on the disk, and ways to spoil one."""

import json
from collections.abc import Callable
from datetime import timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from fieldapp.cli.bundles import bundle_bytes
from fieldapp.start import open_site
from fieldapp.work.demo import READY, scenarios
from fieldapp.work.demo.making import demo_standard
from fieldapp.work.demo.scenarios import Scenario, looked_at, work_of
from fieldapp.work.demo.walking import Look, StoryClock, walk
from fieldapp.work.headings import heading
from fieldapp.work.rounds import begin_round
from tests.demo_mine import PRESENT, demo_home, session

STANDARD = demo_standard(PRESENT - timedelta(hours=72))
CONFORMING, LOOSE, TWO_MISSING = (
    scenarios.CONFORMING,
    scenarios.LOOSE_PLATE,
    scenarios.TWO_MISSING,
)


@cache
def _content(scenario: Scenario) -> bytes:
    work = work_of(scenario, STANDARD, PRESENT)
    return bundle_bytes(work.bundle(looked_at(work)))


def document(scenario: Scenario = CONFORMING) -> Any:
    return json.loads(_content(scenario))


def written(path: Path, content: Any) -> Path:
    raw = content if isinstance(content, bytes) else json.dumps(content).encode()
    path.write_bytes(raw)
    return path


def bundle(folder: Path, scenario: Scenario = CONFORMING) -> Path:
    return written(folder / f"{scenario.name.replace(' ', '-')}.json", document(scenario))


def spoiled(change: Callable[[Any], object]) -> Any:
    found = document()
    change(found)
    return found


@cache
def round_65() -> bytes:
    """Give the round that waits to be looked at, as somebody wrote it down elsewhere."""
    clock = StoryClock(PRESENT - timedelta(hours=1))
    with TemporaryDirectory() as elsewhere:
        site = open_site(demo_home(Path(elsewhere) / "home"), now=clock)
        with site.store:
            who = session(site, "Day supervisor")
            work = begin_round(site, heading(site, READY).id, who)
            work = walk(site, clock, work, who, Look())
            return bundle_bytes(work.bundle(clock()))


def changed(path: Path, **fields: Any) -> Path:
    """Write a bundle's round with other fields beside it, and give where."""
    found = json.loads(path.read_bytes())
    found["round"] |= fields
    return written(path.with_name("changed.json"), found)
