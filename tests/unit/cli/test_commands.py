"""What every command has: a sentence, an example, a home, and troubles in three sentences."""

import re
from pathlib import Path

import pytest

from fieldapp.cli import main
from fieldapp.cli.commands import COMMANDS, GROUPS
from fieldapp.start import LOG_FILE
from tests.unit.cli.conftest import Terminal

WORDS = [(name,) for name, _ in COMMANDS] + [
    (group, name) for group, _, commands in GROUPS for name, _ in commands
]
every_command = pytest.mark.parametrize("words", WORDS, ids=" ".join)


def paragraphs(help_text: str) -> list[str]:
    return [" ".join(part.split()) for part in help_text.split("\n\n")]


@every_command
def test_its_help_is_one_sentence_and_one_example(
    words: tuple[str, ...], lastrow: Terminal
) -> None:
    told = lastrow(*words, "--help")
    _, sentence, example, *_ = paragraphs(told.out)

    assert told.code == 0
    assert sentence.endswith(".")
    assert sentence.count(". ") == 0
    assert example.startswith(f"Example: lastrow {' '.join(words)}")


@every_command
def test_it_takes_a_home(words: tuple[str, ...], lastrow: Terminal) -> None:
    assert "--home DIR" in lastrow(*words, "--help").out


@every_command
def test_it_takes_no_word_that_it_does_not_know(words: tuple[str, ...], lastrow: Terminal) -> None:
    told = lastrow(*words, "--no-such-word")

    assert told.code == 2
    assert len(told.err.splitlines()) == 3
    assert f"lastrow {' '.join(words)} --help" in told.err


def test_the_examples_of_a_command_exist(lastrow: Terminal) -> None:
    for words in WORDS:
        told = lastrow(*words, "--help").out
        example = next(it for it in paragraphs(told) if it.startswith("Example: "))
        for option in re.findall(r" (--[a-z-]+)", example):
            assert option in told.split("Options:")[1]


NEEDING_A_MINE = (
    ("board",),
    ("export",),
    ("selfcheck",),
    ("verify", "LR1:S/7K3Q9XTR/4F2A91BC77E0/5"),
    ("sheet", "4180 Main 87"),
    ("handover", "4180 Main"),
    ("person", "list"),
)


@pytest.mark.parametrize("words", NEEDING_A_MINE, ids=" ".join)
def test_where_no_mine_was_started_nothing_is_made(
    words: tuple[str, ...], lastrow: Terminal, tmp_path: Path
) -> None:
    told = lastrow(*words, "--home", tmp_path / "none")

    assert told.code == 2
    assert "No mine was started" in told.sentence
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("place", ["before", "after", "environment"])
def test_the_home_is_named_before_or_after_the_command_or_in_the_environment(
    place: str, lastrow: Terminal, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if place == "environment":
        monkeypatch.setenv("LASTROW_HOME", str(home))
    before = ["--home", home] if place == "before" else []
    after = ["--home", home] if place == "after" else []

    assert "Wrenfall" in lastrow(*before, "board", *after).out


def test_without_a_command_the_app_is_opened_on_the_home(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DISPLAY", ":99")
    opened: list[tuple[Path, bool]] = []

    def open_app(folder: Path, *, portrait: bool = False) -> int:
        opened.append((folder, portrait))
        return 0

    assert main(["--home", str(home)], open_app) == 0
    assert main(["--portrait", "--home", str(home)], open_app) == 0
    assert opened == [(home, False), (home, True)]


@pytest.mark.parametrize("display", ["", None])
def test_without_a_screen_the_app_is_not_opened(
    home: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    display: str | None,
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
        if display is not None:
            monkeypatch.setenv(name, display)
    code = main(["--home", str(home)], faulty_app)

    assert code == 2
    assert "There is no screen here" in capsys.readouterr().err


def faulty_app(folder: Path, *, portrait: bool = False) -> int:
    raise RuntimeError(f"a bug in {folder}, portrait {portrait}")


def test_a_fault_is_told_logged_and_exits_with_1(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DISPLAY", ":99")
    code = main(["--home", str(home)], faulty_app)
    told = capsys.readouterr().err

    assert code == 1
    assert told.startswith("The program has a fault: RuntimeError.\n")
    assert "Traceback" not in told
    assert "RuntimeError: a bug" in (home / LOG_FILE).read_text()


def test_with_debug_the_place_of_a_fault_is_shown(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DISPLAY", ":99")
    main(["--debug", "--home", str(home)], faulty_app)

    assert "in faulty_app" in capsys.readouterr().err


def test_with_debug_the_place_of_a_trouble_is_shown(lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("--debug", "assess", tmp_path / "nowhere.json")

    assert "Traceback" in told.err
    assert told.code == 2


def test_a_damaged_database_is_trouble_with_the_disk(lastrow: Terminal, home: Path) -> None:
    database = home / "lastrow.db"
    database.write_bytes(b"\x00" * 8192 + database.read_bytes()[8192:])
    told = lastrow("board", "--home", home)

    assert told.code == 5
    assert "damaged" in told.sentence
    assert list(home.glob("damaged-*"))
