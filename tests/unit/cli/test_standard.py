"""A standard held against the one before, from a terminal."""

import json
from pathlib import Path

from tests.standards import DEMO
from tests.unit.cli.conftest import Terminal


def test_a_standard_says_what_it_changes_and_whom_it_would_have_judged_otherwise(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    document = json.loads(DEMO)
    document["revision"] += 1
    document["classes"][0]["limits"]["last_row_to_face"]["at_most_m"] = "0.4"
    file = tmp_path / "standard.json"
    file.write_text(json.dumps(document))
    told = lastrow("standard", "compare", file, "--home", home)
    first, *rounds = told.out.splitlines()

    assert first == "Classes D1, limits, last row to face, at most (m): 0.4, was 1.0"
    assert any("Last row to face" in line for line in rounds)
