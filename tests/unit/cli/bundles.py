"""Bundles on the disk, and ways to spoil one."""

import json
from collections.abc import Callable
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any

from fieldapp.cli.bundles import bundle_bytes
from fieldapp.work.demo import scenarios
from fieldapp.work.demo.making import demo_standard
from fieldapp.work.demo.scenarios import Scenario, looked_at, work_of
from tests.demo_mine import PRESENT

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
