"""A real mine, started from a terminal: people, standard, headings, a first round."""

import io
import json
import shutil
import sys
from pathlib import Path
from typing import Any

import pytest

from fieldapp.cli import main
from tests.demo_mine import SetClock
from tests.standards import DEMO
from tests.unit.cli.bundles import written
from tests.unit.cli.conftest import Terminal, Told, digest_of

ENROL_ENGINEER = ("person", "add", "Engineer", "--role", "geotechnical engineer")
ENROL_KEEPER = ("person", "add", "Keeper", "--role", "records keeper")
SITE, ENGINEER, KEEPER = "40404040", "11112222", "33334444"


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    return tmp_path / "mine"


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A real mine with an engineer and a records keeper."""
    home = tmp_path_factory.mktemp("real") / "mine"
    with pytest.MonkeyPatch.context() as patch:
        for words, typed in (
            (("mine", "start", "Our mine"), f"{SITE}\n"),
            (ENROL_ENGINEER, f"{SITE}\n{ENGINEER}\n"),
            (ENROL_KEEPER, f"{SITE}\n{KEEPER}\n"),
        ):
            patch.setattr(sys, "stdin", io.StringIO(typed))
            assert main([*words, "--home", str(home)], now=SetClock()) == 0
    return home


@pytest.fixture
def started(made_once: Path, mine: Path) -> Path:
    shutil.copytree(made_once, mine)
    return mine


def standard_file(folder: Path, **changes: Any) -> Path:
    return written(
        folder / "standard.json",
        {**json.loads(DEMO), "mine": "Our mine", "demo": False, **changes},
    )


def adopt(lastrow: Terminal, home: Path, file: Path, code: str = ENGINEER) -> Told:
    return lastrow(
        "standard", "adopt", file, "--as", "Engineer", "--home", home, typed=f"{code}\n"
    )


def heading_add(lastrow: Terminal, home: Path, *words: str, typed: str = f"{KEEPER}\n") -> Told:
    given = ("--class", "D1", "--face", "612.0", "--last-row", "611.2", *words)
    return lastrow(
        "heading", "add", "North drive", *given, "--as", "Keeper", "--home", home, typed=typed
    )


def test_a_mine_is_started_once(lastrow: Terminal, mine: Path) -> None:
    first = lastrow("mine", "start", "Our mine", "--home", mine, typed=f"{SITE}\n")
    second = lastrow("mine", "start", "Their mine", "--home", mine, typed=f"{SITE}\n")

    assert [first.code, second.code] == [0, 2]
    assert second.sentence == "Our mine was started on this tablet before."


def test_a_mine_needs_a_site_code(lastrow: Terminal, mine: Path) -> None:
    told = lastrow("mine", "start", "Our mine", "--home", mine)

    assert [told.code, told.sentence] == [2, "The site code is missing."]


def test_a_weak_site_code_starts_nothing(lastrow: Terminal, mine: Path) -> None:
    assert lastrow("mine", "start", "Our mine", "--home", mine, typed="12\n").code == 2
    assert not (mine / "mine.json").exists()


def test_people_are_listed_with_what_they_may_do(lastrow: Terminal, started: Path) -> None:
    assert lastrow("person", "list", "--home", started).out.splitlines() == [
        "Engineer: geotechnical engineer",
        "Keeper: records keeper",
    ]


def test_a_role_that_isn_t_one_is_refused_with_the_list(lastrow: Terminal, started: Path) -> None:
    told = lastrow("person", "add", "Somebody", "--role", "boss", "--home", started)

    assert told.sentence == "“boss” is no role."
    assert "shift supervisor" in told.err


def test_the_wrong_site_code_enrols_nobody(lastrow: Terminal, started: Path) -> None:
    told = lastrow(
        "person", "add", "X", "--role", "bolter", "--home", started, typed="99999\n1234\n"
    )

    assert told.code == 2
    assert "X" not in lastrow("person", "list", "--home", started).out


def test_a_standard_is_adopted_by_the_engineer(
    lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    told = adopt(lastrow, started, standard_file(tmp_path))

    assert told.code == 0, told.err
    assert told.out == "S-2 revision 5 is in force from 1 Feb 2025 00:00 UTC.\n"


def test_a_revision_that_bears_no_later_day_than_the_one_before_says_so(
    lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    adopt(lastrow, started, standard_file(tmp_path))
    early = {"revision": 6, "effective_from": "2020-12-01T00:00:00Z"}
    told = adopt(lastrow, started, standard_file(tmp_path, **early))

    assert "not after S-2 revision 5 (1 Feb 2025 00:00 UTC)" in told.out


def test_a_wrong_code_adopts_nothing(lastrow: Terminal, started: Path, tmp_path: Path) -> None:
    told = adopt(lastrow, started, standard_file(tmp_path), code="0000")

    assert [told.code, told.sentence] == [2, "This is not the sign code of Engineer."]
    assert lastrow("export", "--kind", "standard", "--home", started).out == ""


def test_nobody_but_the_engineer_adopts(lastrow: Terminal, started: Path, tmp_path: Path) -> None:
    told = lastrow(
        "standard",
        "adopt",
        standard_file(tmp_path),
        "--as",
        "Keeper",
        "--home",
        started,
        typed=f"{KEEPER}\n",
    )

    assert "Keeper may not adopt a standard" in told.sentence


def test_the_demo_s_standard_is_refused_at_a_real_mine(
    lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    told = adopt(lastrow, started, written(tmp_path / "demo.json", DEMO))

    assert "Wrenfall (demo)" in told.sentence


@pytest.mark.parametrize("words", [("check",), ("adopt",)], ids=" ".join)
def test_a_standard_that_contradicts_itself_is_refused_before_any_code(
    words: tuple[str, ...], lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    document = json.loads(standard_file(tmp_path).read_bytes())
    document["classes"][0]["limits"]["mesh_lap"]["at_least_mm"] = "3100"
    file = written(tmp_path / "standard.json", document)
    before = digest_of(started)
    who = ("--as", "Engineer") if words == ("adopt",) else ()
    told = lastrow("standard", *words, file, *who, "--home", started)

    assert told.code == 2
    assert "$.classes[0].limits.mesh_lap" in told.sentence
    assert digest_of(started) == before


def test_a_standard_is_read_in_plain_words(lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("standard", "check", standard_file(tmp_path))

    assert told.code == 0
    assert "S-2 revision 5: Ground support standard, Wrenfall" in told.out
    assert "[rework, S-2, 5.6]" in told.out
    assert "S-2 revision 5 can be adopted." in told.out


def test_a_heading_is_entered_by_the_keeper(
    lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    adopt(lastrow, started, standard_file(tmp_path))
    told = heading_add(lastrow, started)

    assert told.code == 0, told.err
    assert "North drive" in lastrow("board", "--home", started).out


def test_without_a_standard_no_heading_is_entered(lastrow: Terminal, started: Path) -> None:
    assert heading_add(lastrow, started).sentence == (
        "No support standard is in force at Our mine."
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--face", "600"), "its face at 600 m is behind its last row at 611.2 m"),
        (("--face", "NaN"), "“NaN” can't be the chainage of the face"),
        (("--face", "-3"), "“-3” can't be the chainage of the face"),
        (("--face", "1e9"), "“1e9” can't be the chainage of the face"),
        (("--class", "Z9"), "S-2 revision 5 has no support class Z9"),
        (("--level", "x" * 41), "Level: "),
    ],
    ids=str,
)
def test_a_heading_that_can_t_be_is_refused(
    words: tuple[str, ...], said: str, lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    adopt(lastrow, started, standard_file(tmp_path))
    told = heading_add(lastrow, started, *words)

    assert told.code == 2
    assert said in told.sentence


def test_who_enters_a_heading_need_not_be_said_where_only_one_may(
    lastrow: Terminal, home: Path
) -> None:
    told = lastrow(
        "heading",
        "add",
        "New",
        "--class",
        "D1",
        "--face",
        "9",
        "--last-row",
        "8",
        "--home",
        home,
    )

    assert "It was not said who does this" in told.sentence


CSV = "name,level,support_class,face_m,last_row_m\n"


def test_a_list_of_headings_is_entered(lastrow: Terminal, started: Path, tmp_path: Path) -> None:
    adopt(lastrow, started, standard_file(tmp_path))
    file = written(tmp_path / "list.csv", (CSV + "A,1,D1,10.0,9.2\nB,1,O2,20,19\n").encode())
    told = lastrow(
        "heading", "import", file, "--as", "Keeper", "--home", started, typed=f"{KEEPER}\n"
    )

    assert told.out == "A is entered.\nB is entered.\n"


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (CSV + "A,1,D1,10.0,9.2\nB,1,D1,long,19\n", "line 3, face_m can't be 'long'"),
        (CSV + "A,1,D1,10.0,9.2\nA,1,D1,20,19\n", "line 3, A is entered already"),
        (CSV + "A,1,D1,NaN,9.2\n", "line 2, face_m can't be 'NaN'"),
        (CSV + "A,1,D1,-1,9.2\n", "line 2, face_m can't be '-1'"),
        ("name,level\nA,1\n", "line 1, the column support_class is missing"),
        (CSV + "A,1\n", "line 2, face_m can't be ''"),
        ("", "line 1, the column name is missing"),
    ],
    ids=str,
)
def test_a_list_is_taken_whole_or_not_at_all(
    raw: str, said: str, lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    adopt(lastrow, started, standard_file(tmp_path))
    file = written(tmp_path / "list.csv", raw.encode())
    told = lastrow(
        "heading", "import", file, "--as", "Keeper", "--home", started, typed=f"{KEEPER}\n"
    )

    assert [told.code, said in told.sentence] == [2, True], told.sentence
    assert lastrow("export", "--kind", "heading", "--home", started).out == ""


def test_a_new_sign_code_takes_the_place_of_the_old(
    lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    told = lastrow(
        "person", "reset-code", "Engineer", "--home", started, typed=f"{SITE}\n98989898\n"
    )
    old = adopt(lastrow, started, standard_file(tmp_path))
    new = adopt(lastrow, started, standard_file(tmp_path), code="98989898")

    assert [told.code, old.code, new.code] == [0, 2, 0]


def test_who_was_revoked_does_nothing_more(
    lastrow: Terminal, started: Path, tmp_path: Path
) -> None:
    lastrow("person", "revoke", "Engineer", "--home", started, typed=f"{SITE}\n")
    told = adopt(lastrow, started, standard_file(tmp_path))

    assert told.sentence == "Engineer is not enrolled at this mine."
