"""A check: one file, one line in the list, one limit, all of one name."""

import importlib
import pkgutil

import pytest

from schemas.standard import Limits

FOLDER = "fieldapp/assess/checks"


@pytest.fixture
def listed() -> set[str]:
    checks = importlib.import_module("fieldapp.assess.checks")
    return {check.__name__ for check in checks.CHECKS}


def test_every_check_that_has_a_file_is_listed(listed: set[str]) -> None:
    checks = importlib.import_module("fieldapp.assess.checks")
    filed = {module.name for module in pkgutil.iter_modules(checks.__path__)}
    filed = {name for name in filed if not name.startswith("_")}

    assert filed - listed == set(), f"list these in CHECKS of {FOLDER}/__init__.py, or move them"
    assert listed - filed == set(), f"write {FOLDER}/<name>.py with one function <name> for these"


def test_every_check_has_its_limit(listed: set[str]) -> None:
    limits = set(Limits.model_fields)

    assert listed - limits == set(), "name their limits in schemas.standard.Limits"
    assert limits - listed == set(), f"no check looks at these limits: write one in {FOLDER}"


def test_no_check_is_listed_twice(listed: set[str]) -> None:
    checks = importlib.import_module("fieldapp.assess.checks")

    assert len(checks.CHECKS) == len(listed), "a check stands twice in CHECKS"


def test_every_rule_about_contradictions_is_listed() -> None:
    package = importlib.import_module("fieldapp.assess.contradictions")
    filed = {module.name for module in pkgutil.iter_modules(package.__path__)} - {"contradiction"}
    ruling = {rule.__name__ for rule in package.RULES}

    assert ruling == filed, "a file, its rule and its line in RULES share one name"
