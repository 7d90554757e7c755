"""What has no place in a file that others will read.

The patterns are written so that they don't match themselves.
"""

import ast
import re
from pathlib import Path

import pytest

from tests.house.tree import files, name_of, sources, syntax

FORBIDDEN = {
    "the address of a package registry": r"pypi[.]org|pythonhosted[.]org|npmjs[.](?:org|com)"
    r"|deb[.]debian[.]org|crates[.]io|--(?:extra-)?index[-]url|trusted[-]host",
    "a path of somebody's own machine": r"(?<![\w./])/(?:[w]ork|[r]oot|[h]ome|[U]sers)/"
    r"|(?<![\w./])/[r]oot\b(?!/)|[.]pyenv[/]|C:\\\\[U]sers",
    "a page that is not in this repository": r"[.][.]/[s]hared"
    r"|\b(?:[d]esign|[s]tyle|[c]ontract)\.md|\b(?:[t]rade|[s]ync|[u]i)-notes|\b[u]i-spikes",
    "how the work was organised": r"(?i)\b[s]eed talk|\b[s]ub-?agent|\bissue[ ]#?\d|\b[C]EO\b"
    r"|\b[L]LM\b|\blanguage[ ]model\b|\b[c]laude\b|\b[a]nthropic|\b[c]hatgpt|\b[c]opilot\b",
    "work that was left for later": r"\b(?:[T]ODO|[F]IXME|[X]XX)\b",
}
NOT_TEXT = {".ttf", ".png", ".wav", ".jpg", ".pdf", ".ico", ".gz", ".db"}


def texts() -> list[Path]:
    """Give the files that a person can read."""
    return [path for path in files() if path.suffix not in NOT_TEXT]


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_file_holds(what: str) -> None:
    pattern = re.compile(FORBIDDEN[what])
    found = [
        f"{name_of(path)}:{number}: {line.strip()[:120]}"
        for path in texts()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if pattern.search(line)
    ]

    assert not found, f"take out {what}:\n" + "\n".join(found)


def test_no_lock_file_is_kept() -> None:
    locks = {"poetry.lock", "uv.lock", "Pipfile.lock", "pdm.lock", "requirements.txt"}
    found = [name_of(path) for path in files() if path.name in locks]

    assert not found, "lower bounds stand in pyproject.toml; nothing else pins"


def test_every_package_is_named_for_the_build() -> None:
    """A folder of Python beside the four would be tested here and missing in the wheel."""
    tops = {name_of(path).partition("/")[0] for path in files() if path.suffix == ".py"}

    assert tops <= {"fieldapp", "sync", "schemas", "assets", "tests", "docs"}


SAID_OTHERWISE = {
    "fieldapp/assess/covered.py": "signed as it stands: turned over where it is shown",
    "fieldapp/assess/contradictions/times.py": "signed as it stands",
    "fieldapp/assess/checks/curing.py": "signed as it stands: turned over where it is shown",
    "fieldapp/assess/shaken.py": "signed as it stands: turned over where it is shown",
    "fieldapp/cli/share.py": "a line of a log, to the second",
}
"""Where a date is written in another form than people are told one, and why."""


def test_a_date_is_said_in_one_form() -> None:
    found = {
        name_of(source)
        for source in sources("fieldapp")
        for node in ast.walk(syntax(source))
        if isinstance(node, ast.FormattedValue)
        and node.format_spec is not None
        and re.search(r"%[Yymd]", ast.unparse(node.format_spec))
    }

    assert found == set(SAID_OTHERWISE), "say it by fieldapp.report.words.findings.when or .day"
