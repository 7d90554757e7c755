"""The README is short, and what it tells a newcomer to type exists."""

import re
import shlex

import pytest

from tests.house.tree import ROOT, files, name_of

README = ROOT / "README.md"
LONGEST = 150
BLOCK = re.compile(r"^```[a-z]*\n(.*?)^```", re.M | re.S)
OURS = ("python3", "lastrow")


def commands() -> list[str]:
    """Give the lines of the README's blocks that call us, each once."""
    if not README.exists():
        return []
    blocks = BLOCK.findall(README.read_text(encoding="utf-8"))
    lines = [line.strip().removeprefix("$ ") for block in blocks for line in block.splitlines()]
    return list(dict.fromkeys(line for line in lines if line.split(" ")[0] in OURS))


def lastrow_commands() -> list[str]:
    return [line for line in commands() if line.startswith(("lastrow", "python3 -m fieldapp"))]


def names_in(line: str) -> list[str]:
    """Give the names of the command and its own commands, without what they are given."""
    words = shlex.split(line, comments=True)
    words = words[1:] if words[0] == "lastrow" else words[3:]
    names = []
    for word in words:
        if not re.fullmatch(r"[a-z][a-z-]*", word):
            break
        names.append(word)
    return names


def test_the_readme_is_read_in_one_go() -> None:
    lines = README.read_text(encoding="utf-8").splitlines()

    assert len(lines) <= LONGEST, f"{len(lines)} lines: the rest belongs in DEVELOPERS.md"


@pytest.mark.parametrize("command", ["python3 -m fieldapp demo", "python3 -m tests"])
def test_the_readme_begins_with_the_two_commands(command: str) -> None:
    assert command in commands(), f"put `{command}` on a line of its own in a block"


def test_ci_runs_the_test_command_of_the_readme() -> None:
    script = (ROOT / ".ci/run").read_text(encoding="utf-8").splitlines()

    assert "python3 -m tests" in script


@pytest.mark.parametrize("line", lastrow_commands())
def test_a_command_in_the_readme_exists(line: str, capsys: pytest.CaptureFixture[str]) -> None:
    from fieldapp.cli import main

    code = main([*names_in(line), "--help"])
    told = capsys.readouterr()

    assert code == 0, f"{line}: {told.err}"


@pytest.mark.parametrize("line", lastrow_commands())
def test_an_option_in_the_readme_exists(line: str, capsys: pytest.CaptureFixture[str]) -> None:
    from fieldapp.cli import main

    options = re.findall(r"(?<=\s)--[a-z-]+", line)
    main([*names_in(line), "--help"])
    told = capsys.readouterr().out
    unknown = [option for option in options if option not in told]

    assert not unknown, f"{line} has no such options: {unknown}"


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_what_a_page_points_at_is_there(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")
    links = re.findall(r"\]\((?!https?:|#|mailto:)([^)#\s]+)", text)
    missing = [link for link in links if not (ROOT / link).exists()]

    assert not missing, f"{document} points at what is not there: {missing}"


def test_the_pages_name_files_that_exist() -> None:
    """A path in backquotes is a promise: `fieldapp/work/round.py` is where it says."""
    known = {name_of(path) for path in files()}
    folders = {
        "/".join(name.split("/")[:n]) for name in known for n in range(1, name.count("/") + 1)
    }
    missing = []
    for document in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / document).read_text(encoding="utf-8")
        named = re.findall(r"`((?:fieldapp|sync|schemas|assets|tests)/[\w./-]+)`", text)
        missing += [name for name in named if name.rstrip("/") not in known | folders]

    assert not missing, f"say where these are now: {missing}"
