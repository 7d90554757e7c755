"""What a shift does from a terminal: the board, an event, a batch, the demo in a folder."""

import io
import json
import re
from collections.abc import Sequence
from contextlib import redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pytest

from fieldapp.cli import main
from fieldapp.work.demo.story import HEADINGS, MAIN
from tests.demo_mine import CODES, SetClock, demo_home
from tests.unit.cli.conftest import Terminal, Told, digest_of


def test_the_board_has_every_heading_and_says_what_outranks_it(
    lastrow: Terminal, home: Path
) -> None:
    told = lastrow("board", "--home", home).out

    assert [place.name for place in HEADINGS if place.name not in told] == []
    assert told.startswith("Wrenfall, day shift, Tuesday, DEMO\n")
    assert told.endswith("A barricade or sign in the heading outranks this list.\n")


def test_an_event_withdraws_entry_on_the_board(lastrow: Terminal, home: Path) -> None:
    told = lastrow(
        "event", MAIN, "seismic", "--at", "600", "--as", "Bolter, crew A", "--home", home
    )
    row = next(line for line in lastrow("board", "--home", home).out.splitlines() if MAIN in line)

    assert told.code == 0, told.err
    assert "Entry is withdrawn 80 m around it until 21:30 UTC and an inspection." in told.out
    assert "to 520.0 m" in row


def test_a_stripping_closes_its_stretch_on_the_board(lastrow: Terminal, home: Path) -> None:
    said = ("--at", "580", "--to", "590", "--zone", "left wall", "--depth", "1.5")
    told = lastrow("event", MAIN, "stripped", *said, "--as", "Bolter, crew A", "--home", home)

    assert told.code == 0, told.err
    assert told.out.startswith("4180 Main: left wall stripped from 580.0 to 590.0 m.\n")
    assert "left wall stripped from 580.0 to 590.0 m" in lastrow("board", "--home", home).out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((MAIN, "thunder", "--at", "600"), "“thunder” is no event."),
        ((MAIN, "stripped", "--at", "580"), "“” can't be the end of what was stripped (--to)."),
        (
            (MAIN, "stripped", "--at", "590", "--to", "580"),
            "Nothing can have been stripped in 4180 Main from 590 m to 580 m.",
        ),
        ((MAIN, "fired", "--at", "far"), "“far” can't be the chainage."),
        (("Nowhere", "fired", "--at", "600"), "No heading is called Nowhere."),
        ((MAIN, "fired", "--at", "600", "--fired", "inf"), "“inf” can't be the advance."),
    ],
    ids=str,
)
def test_an_event_that_can_t_be_is_refused(
    words: tuple[str, ...], said: str, lastrow: Terminal, home: Path
) -> None:
    told = lastrow("event", *words, "--as", "Day supervisor", "--home", home)

    assert [told.code, told.sentence] == [2, said]


def plain(told: Told) -> str:
    """Give what was said with every space an ordinary one."""
    return told.out.replace("\u00a0", " ")


def test_a_batch_in_doubt_names_the_rounds_that_used_it(lastrow: Terminal, home: Path) -> None:
    told = lastrow(
        "batch",
        "doubt",
        "RB24-0731",
        "--reason",
        "sets too slowly",
        "--as",
        "Day supervisor",
        "--home",
        home,
    )

    assert "In doubt: round 412 of Wrenfall Decline, 1 385.8 to 1 389.4 m, " in plain(told)
    assert "In doubt: round 23" not in told.out


def decide(lastrow: Terminal, home: Path, decision: str, who: str) -> Told:
    words = ("--reason", "pull test", "--as", who, "--home", home)
    return lastrow("batch", decision, "RB24-0731", *words, typed=f"{CODES[who]}\n")


def doubted(lastrow: Terminal, home: Path) -> str:
    """Put a batch in doubt, and give what the board says of it."""
    words = ("--reason", "sets too slowly", "--as", "Day supervisor", "--home", home)
    lastrow("batch", "doubt", "RB24-0731", *words)
    return lastrow("board", "--home", home).out


def test_an_engineer_clears_a_batch_and_the_board_is_as_it_was(
    lastrow: Terminal, home: Path
) -> None:
    before = lastrow("board", "--home", home).out
    assert doubted(lastrow, home) != before
    told = decide(lastrow, home, "clear", "Geotechnical engineer")

    assert told.code == 0, told.err
    assert told.out == "Batch RB24-0731 is cleared: its rounds are no longer in doubt.\n"
    assert lastrow("board", "--home", home).out == before
    listed = lastrow("batch", "list", "--home", home).out
    assert "RB24-0731: bolts RB24, cleared by an engineer: pull test\n" in listed


def test_an_engineer_keeps_a_batch_in_doubt_and_its_rounds_are_named(
    lastrow: Terminal, home: Path
) -> None:
    doubted(lastrow, home)
    told = decide(lastrow, home, "keep", "Geotechnical engineer")

    assert "stays in doubt. It closes no heading by itself" in told.out
    assert "In doubt: round 412 of Wrenfall Decline, 1 385.8 to 1 389.4 m, " in plain(told)
    listed = lastrow("batch", "list", "--home", home).out
    assert "RB24-0731: bolts RB24, kept in doubt by an engineer: pull test\n" in listed


@pytest.mark.parametrize("decision", ["clear", "keep"])
def test_a_supervisor_decides_on_no_batch(decision: str, lastrow: Terminal, home: Path) -> None:
    before = doubted(lastrow, home)
    told = decide(lastrow, home, decision, "Day supervisor")

    assert told.code != 0
    assert told.sentence == (
        "Day supervisor may not decide on a batch in doubt: that needs a geotechnical engineer."
    )
    assert lastrow("board", "--home", home).out == before


def test_what_nobody_doubts_is_not_decided_on(lastrow: Terminal, home: Path) -> None:
    told = decide(lastrow, home, "clear", "Geotechnical engineer")

    assert [told.code, told.sentence] == [2, "Nobody has put batch RB24-0731 in doubt."]


def test_the_board_says_which_rounds_are_in_doubt_and_until_when(
    lastrow: Terminal, home: Path
) -> None:
    told = doubted(lastrow, home)

    assert (
        "In doubt, Wrenfall Decline: batch RB24-0731, rounds 411 and 412; "
        "an engineer decides until 7 May 2031 09:30 UTC.\n"
    ) in told
    assert "In doubt, Ore" not in told


def test_a_batch_is_entered_once_it_is_delivered(lastrow: Terminal, home: Path) -> None:
    told = lastrow(
        "batch",
        "add",
        "RB24-0999",
        "--of",
        "bolts",
        "--bolt-type",
        "RB24",
        "--length",
        "2.4",
        "--as",
        "Records keeper",
        "--home",
        home,
    )
    newest = lastrow("export", "--kind", "batch", "--home", home).out.splitlines()[-1]

    assert told.code == 0, told.err
    assert json.loads(newest)["body"]["length_m"] == "2.4"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("doubt", "NONE-1", "--reason", "bad"), "No batch is labelled NONE-1."),
        (("add", "X", "--of", "wood"), "“wood” is no batch."),
        (("add", "X", "--of", "bolts", "--length", "-2"), "Length (m): "),
    ],
    ids=str,
)
def test_a_batch_that_can_t_be_is_refused(
    words: tuple[str, ...], said: str, lastrow: Terminal, home: Path
) -> None:
    told = lastrow("batch", *words, "--as", "Day supervisor", "--home", home)

    assert [told.code, said in told.sentence] == [2, True], told.err


def test_the_schemas_are_written_as_published(lastrow: Terminal, tmp_path: Path) -> None:
    from fieldapp.report.published import published_reports
    from schemas.json_schema import published

    told = lastrow("schema", "--out", tmp_path / "out")
    written = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}

    assert told.code == 0
    assert written == published() | published_reports()


# --- the demo --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Written:
    """What `lastrow demo` wrote and said, with a screen and a folder."""

    home: Path
    folder: Path
    code: int
    out: str


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Written:
    above = tmp_path_factory.mktemp("demo")
    home, folder = demo_home(above / "home"), above / "out"
    heard = io.StringIO()

    def never(folder: Path, *, portrait: bool = False) -> int:
        raise AssertionError(f"a window was opened on {folder}, portrait {portrait}")

    with pytest.MonkeyPatch.context() as patch, redirect_stdout(heard):
        patch.setenv("DISPLAY", ":99")
        words = ["demo", "--home", str(home), "--folder", str(folder)]
        code = main(words, never, now=SetClock())
    return Written(home, folder, code, heard.getvalue())


def test_with_a_folder_everything_is_written_there_and_no_window_is_opened(
    written: Written,
) -> None:
    assert written.code == 0
    assert f"Everything is in {written.folder}, its records in {written.home}." in written.out


def test_the_findings_are_printed_as_a_table_and_the_sign_codes_told(written: Written) -> None:
    assert "■ no entry" in written.out
    assert "1111  Day supervisor, shift supervisor" in written.out


@pytest.mark.parametrize(
    ("ends", "begins"),
    [(".pdf", b"%PDF"), ("-handover.pdf", b"%PDF"), (".png", b"\x89PNG"), (".json", b"{")],
)
def test_each_recorded_round_is_on_paper(ends: str, begins: bytes, written: Written) -> None:
    for name in ("wrenfall-decline-411", "wrenfall-decline-412", "4180-main-87"):
        raw = (written.folder / f"round-{name}{ends}").read_bytes()

        assert raw.startswith(begins)


def test_a_round_that_is_being_looked_at_is_shown_and_not_signed(written: Written) -> None:
    assert (written.folder / "round-4155-ore-drive-s-61.png").exists()
    assert not (written.folder / "round-4155-ore-drive-s-61.pdf").exists()


def test_every_bundle_of_the_demo_can_be_assessed_again(
    written: Written, lastrow: Terminal
) -> None:
    bundles = sorted(written.folder.glob("round-*.json"))
    codes = {path.stem: lastrow("assess", path).code for path in bundles}

    assert codes["round-4180-main-87"] == 0
    assert codes["round-4180-ore-drive-n-23"] == 3
    assert codes["round-wrenfall-decline-412"] == 4
    assert set(codes.values()) == {0, 3, 4}
    assert lastrow("assess", *bundles).code == 4


def test_the_code_on_a_sheet_is_verified_by_the_demo_s_records(
    written: Written, lastrow: Terminal
) -> None:
    codes = re.findall(r"Code on the sheet: (\S+)", written.out)

    assert len(codes) == 9
    for code in codes:
        assert lastrow("verify", code, "--home", written.home).code == 0


def demo(
    home: Path, *words: str, before: Sequence[str] = (), monkeypatch: pytest.MonkeyPatch
) -> tuple[int, list[tuple[Path, bool]]]:
    """Open the demo on a screen that only notes what was opened."""
    monkeypatch.setenv("DISPLAY", ":99")
    opened: list[tuple[Path, bool]] = []

    def open_app(folder: Path, *, portrait: bool = False) -> int:
        opened.append((folder, portrait))
        return 0

    told = [*before, "demo", *words, "--home", str(home)]
    return main(told, open_app, now=SetClock()), opened


def test_with_a_screen_the_app_opens_on_the_demo_s_home(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert demo(home, monkeypatch=monkeypatch) == (0, [(home, False)])
    assert demo(home, "--portrait", monkeypatch=monkeypatch) == (0, [(home, True)])
    assert demo(home, before=("--portrait",), monkeypatch=monkeypatch) == (0, [(home, True)])


def shaken(lastrow: Terminal, home: Path) -> str:
    """Leave something in the demo mine that its story doesn't have."""
    lastrow("event", MAIN, "seismic", "--at", "600", "--as", "Day supervisor", "--home", home)
    return lastrow("export", "--home", home).out


def test_the_demo_is_gone_on_with_as_it_was_left(
    lastrow: Terminal, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    left = shaken(lastrow, home)
    demo(home, monkeypatch=monkeypatch)

    assert lastrow("export", "--home", home).out == left


def test_the_demo_is_started_over_when_asked(
    lastrow: Terminal, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shaken(lastrow, home)
    code, _ = demo(home, "--fresh", "--no-past", monkeypatch=monkeypatch)
    events = lastrow("export", "--kind", "event", "--home", home).out

    assert code == 0
    assert "fired" in events
    assert "seismic" not in events


def test_a_demo_that_was_never_finished_is_made_anew(
    lastrow: Terminal, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shaken(lastrow, home)
    (home / "demo.made").unlink()
    demo(home, "--no-past", monkeypatch=monkeypatch)

    assert "seismic" not in lastrow("export", "--kind", "event", "--home", home).out
    assert (home / "demo.made").exists()


@pytest.mark.parametrize("words", [(), ("--fresh",)], ids=str)
def test_the_demo_touches_no_real_records(
    words: tuple[str, ...], lastrow: Terminal, home: Path
) -> None:
    for name in ("demo.made", "demo.started"):
        (home / name).unlink()
    before = digest_of(home)
    told = lastrow("demo", *words, "--home", home)

    assert [told.code, "the records of a real mine" in told.sentence] == [2, True]
    assert digest_of(home) == before
