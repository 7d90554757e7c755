"""How a part of the tests ended, in numbers."""

import xml.etree.ElementTree as ET
from dataclasses import dataclass
from pathlib import Path

from tests.run.parts import Part

NO_TESTS = 5  # pytest's word for an empty choice


@dataclass(frozen=True)
class Outcome:
    """What one process of tests came to."""

    part: Part
    passed: int
    failed: int
    skipped: tuple[str, ...]
    """The reasons given."""
    lasted_s: float


def outcome(part: Part, report: Path, code: int, lasted_s: float) -> Outcome:
    """Count from pytest's own report; a process that ended badly never counts as good."""
    tests, failed, skipped = _counted(report) if report.exists() else (0, 0, ())
    passed = max(tests - failed - len(skipped), 0)
    if code not in (0, NO_TESTS) and not failed:
        failed = 1
    return Outcome(part, passed, failed, skipped, lasted_s)


def _counted(report: Path) -> tuple[int, int, tuple[str, ...]]:
    try:
        suites = list(ET.parse(report).getroot().iter("testsuite"))  # noqa: S314  our own file
    except ET.ParseError:  # the process died while it wrote
        return 0, 1, ()
    skipped = [case.get("message", "") for suite in suites for case in suite.iter("skipped")]

    def total(*names: str) -> int:
        return sum(int(suite.get(name, 0)) for suite in suites for name in names)

    return total("tests"), total("failures", "errors"), tuple(skipped)
