"""A terminal for tests: what is typed, what comes back, what is on the disk afterwards."""

import io
import json
import sys
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from fieldapp.cli import main
from tests.demo_mine import SetClock, demo_home


@dataclass(frozen=True)
class Told:
    """What a command came to."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)

    @property
    def sentence(self) -> str:
        """The first of the three sentences of a trouble."""
        return self.err.splitlines()[0]


Terminal = Callable[..., Told]


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The home of a demo mine."""
    return demo_home(tmp_path / "home")


@pytest.fixture
def lastrow(
    clock: SetClock,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
) -> Terminal:
    """Type `lastrow …`; `typed` are the lines of standard input."""
    monkeypatch.setenv("LASTROW_HOME", str(tmp_path / "unnamed-home"))

    def run(*words: str | Path, typed: str = "") -> Told:
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        capsys.readouterr()
        code = main([str(word) for word in words], now=clock)
        captured = capsys.readouterr()
        return Told(code, captured.out, captured.err)

    return run


def digest_of(folder: Path) -> str:
    """Sum up every file of a folder: names and bytes."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    parts = (
        f"{path.relative_to(folder)} {sha256(path.read_bytes()).hexdigest()}" for path in files
    )
    return sha256("\n".join(parts).encode()).hexdigest()
