"""The tools that read the whole house, under the one test command."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.tree import ROOT


@pytest.mark.parametrize(
    "command",
    [
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["mypy"],
        ["lint-imports", "--no-cache"],
    ],
    ids=" ".join,
)
def test_the_linters_find_nothing(command: list[str]) -> None:
    tool = Path(sys.executable).parent / command[0]
    run = subprocess.run(  # noqa: S603
        [tool, *command[1:]], cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert run.returncode == 0, f"put right what {command[0]} says:\n{run.stdout}{run.stderr}"
