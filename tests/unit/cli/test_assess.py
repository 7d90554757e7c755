"""A bundle's verdict is the exit code; what can't be read is told in one plain sentence."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from schemas.canonical import canonical_bytes
from schemas.findings import Assessment
from tests.unit.cli.bundles import CONFORMING, LOOSE, TWO_MISSING, bundle, document, written
from tests.unit.cli.conftest import Terminal, digest_of


@pytest.mark.parametrize(
    ("scenario", "code"), [(CONFORMING, 0), (LOOSE, 3), (TWO_MISSING, 4)], ids=lambda it: str(it)
)
def test_the_exit_code_says_the_verdict(
    scenario: Any, code: int, lastrow: Terminal, tmp_path: Path
) -> None:
    assert lastrow("assess", bundle(tmp_path, scenario)).code == code


@pytest.mark.parametrize("scenario", [CONFORMING, TWO_MISSING], ids=lambda it: str(it))
def test_an_answer_that_nobody_read_to_its_end_is_no_verdict(
    scenario: Any, tmp_path: Path
) -> None:
    command = [sys.executable, "-m", "fieldapp", "assess", str(bundle(tmp_path, scenario))]
    with subprocess.Popen(  # noqa: S603
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        assert run.stdout
        assert run.stderr
        run.stdout.close()
        told = run.stderr.read()

    assert run.returncode == 141
    assert told == b""


@pytest.mark.parametrize(
    ("scenarios", "code"),
    [
        ((CONFORMING, CONFORMING), 0),
        ((CONFORMING, LOOSE), 3),
        ((TWO_MISSING, LOOSE), 4),
        ((TWO_MISSING, None), 2),
        ((None, CONFORMING), 2),
    ],
    ids=lambda it: str(it),
)
def test_of_several_the_gravest_is_the_exit_code(
    scenarios: tuple[Any, ...], code: int, lastrow: Terminal, tmp_path: Path
) -> None:
    torn = written(tmp_path / "torn.json", b"{")
    paths = [torn if one is None else bundle(tmp_path, one) for one in scenarios]

    assert lastrow("assess", *paths).code == code


def test_the_table_says_what_is_wrong_where_and_by_which_clause(
    lastrow: Terminal, tmp_path: Path
) -> None:
    told = lastrow("assess", bundle(tmp_path, LOOSE)).out

    assert "Wrenfall Decline, round 411: rework" in told
    assert "▲ rework" in told
    assert "row 3" in told
    assert "S-2, 5.11" in told
    assert "Not seen: bond, hidden length, grout, ground behind mesh." in told


def test_one_file_answers_with_one_assessment(lastrow: Terminal, tmp_path: Path) -> None:
    answer = lastrow("assess", bundle(tmp_path), "--json").json

    assert Assessment.model_validate(answer).headline == "accept"


def test_several_files_answer_with_a_list(lastrow: Terminal, tmp_path: Path) -> None:
    answer = lastrow("assess", bundle(tmp_path), bundle(tmp_path, LOOSE), "--json").json

    assert [len(answer), answer[0]["headline"]] == [2, "accept"]


def test_a_file_that_can_t_be_read_leaves_the_others_assessed(
    lastrow: Terminal, tmp_path: Path
) -> None:
    torn = written(tmp_path / "torn.json", b"{")
    told = lastrow("assess", torn, bundle(tmp_path), "--json")

    assert [len(told.json), told.code] == [1, 2]


def test_assessed_twice_it_is_the_same_bytes(lastrow: Terminal, tmp_path: Path) -> None:
    path = bundle(tmp_path, TWO_MISSING)
    first, second = lastrow("assess", path, "--json").out, lastrow("assess", path, "--json").out

    assert first == second


def test_what_is_printed_is_what_is_hashed_in_a_sign_off(
    lastrow: Terminal, tmp_path: Path
) -> None:
    told = lastrow("assess", bundle(tmp_path), "--json")

    assert told.out.strip().encode() == canonical_bytes(told.json)


def test_it_opens_no_records(lastrow: Terminal, tmp_path: Path) -> None:
    lastrow("assess", bundle(tmp_path), "--home", tmp_path / "home")

    assert not (tmp_path / "home").exists()


# --- what can't be taken ------------------------------------------------------------------

Spoil = Callable[[Any], object]


def put(path: str, value: object) -> Spoil:
    def change(found: Any) -> None:
        *steps, last = path.split(".")
        for step in steps:
            found = found[int(step) if step.isdigit() else step]
        found[last] = value

    return change


def without(name: str) -> Spoil:
    return lambda found: found.pop(name)


def many_bolts(found: Any) -> None:
    bolt = {"position": 1, "state": "present"}
    found["round"]["rows"][0]["bolts"] = [bolt] * 10**6


SPOILED: dict[str, tuple[Spoil, str]] = {
    "a field is missing": (without("round"), "$.round"),
    "of the wrong type": (put("round.number", "412"), "$.round.number"),
    "a number for a text": (put("round.joint_m", 1386.4), "$.round.joint_m"),
    "a negative length": (
        put("round.rows.0.ahead_of_row_before.value_m", "-0.9"),
        "$.round.rows[0].ahead_of_row_before.value_m",
    ),
    "infinity in quotes": (put("round.joint_m", "Infinity"), "$.round.joint_m"),
    "NaN in quotes": (put("round.joint_m", "NaN"), "$.round.joint_m"),
    "NaN": (put("round.joint_m", float("nan")), "$.round.joint_m"),
    "infinity": (put("round.joint_m", float("inf")), "$.round.joint_m"),
    "a number beyond all": (put("round.number", 10**400), "$.round.number"),
    "a time without a zone": (put("as_at", "2031-05-06T09:30:00"), "$.as_at"),
    "a word that isn't one": (put("round.ground.condition", "fine"), "$.round.ground.condition"),
    "a newer version's verdict": (
        put("standard.classes.0.limits.row_spacing.breach", "shrug"),
        "$.standard.classes[0].limits.row_spacing.breach",
    ),
    "a standard that contradicts itself": (
        put("standard.classes.0.profile.rise_m", "2.6"),
        "$.standard.classes[0].profile.rise_m",
    ),
    "a class that isn't in the standard": (put("round.support_class", "Z9"), "Z9"),
}


@pytest.mark.parametrize("name", SPOILED)
def test_a_bundle_is_refused_with_its_path_in_one_sentence(
    name: str, lastrow: Terminal, tmp_path: Path, home: Path
) -> None:
    change, path = SPOILED[name]
    found = document()
    change(found)
    before = digest_of(home)
    told = lastrow("assess", written(tmp_path / "spoiled.json", found), "--home", home)

    assert told.code == 2
    assert path in told.sentence
    assert told.sentence.endswith(".")
    assert len(told.err.splitlines()) == 3
    assert "Traceback" not in told.err
    assert digest_of(home) == before


RAW = {
    "torn": (b'{"heading": {"name": "Wren', "line 1"),
    "empty": (b"", "line 1"),
    "no JSON": (b"\x00\x01PNG", "spoiled.json"),
    "not UTF-8": (b'{"heading": "\xff"}', "byte 13"),
    "a list": (b"[]", "$"),
    "a key twice": (b'{"heading": {}, "heading": {}}', "$"),
    "nested deeply": (b'{"round": ' + b"[" * 100_000 + b"]" * 100_000 + b"}", "$.round"),
    "torn and nested deeply": (b"[" * 1_000_000, "$[0]"),
    "larger than anything": (b'{"round": "' + b"x" * 5_000_000 + b'"}', "4 MB"),
    "two documents": (b"{} {}", "line 1"),
}


@pytest.mark.parametrize("name", RAW)
@pytest.mark.parametrize("words", [("assess",), ("standard", "check")], ids=" ".join)
def test_a_file_is_refused_in_one_sentence(
    name: str, words: tuple[str, ...], lastrow: Terminal, tmp_path: Path
) -> None:
    raw, place = RAW[name]
    told = lastrow(*words, written(tmp_path / "spoiled.json", raw))

    assert told.code == 2
    assert place in told.sentence
    assert len(told.err.splitlines()) == 3


def test_a_million_bolts_are_refused_and_not_counted(lastrow: Terminal, tmp_path: Path) -> None:
    found = document()
    many_bolts(found)
    told = lastrow("assess", written(tmp_path / "many.json", found))

    assert [told.code, "4 MB" in told.sentence] == [2, True]


def test_more_bolts_than_a_row_can_hold_are_refused_where_they_stand(
    lastrow: Terminal, tmp_path: Path
) -> None:
    found = document()
    found["round"]["rows"][0]["bolts"] = [{"position": 1, "state": "present"}] * 121
    told = lastrow("assess", written(tmp_path / "many.json", found))

    assert "$.round.rows[0].bolts, the list has more than 120" in told.sentence


@pytest.mark.parametrize("name", ["nowhere.json", "."])
def test_a_file_that_isn_t_one_is_named(name: str, lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("assess", tmp_path / name)

    assert [told.code, str(tmp_path) in told.sentence] == [2, True]


def test_fields_that_a_newer_version_adds_are_let_through(
    lastrow: Terminal, tmp_path: Path
) -> None:
    found = document()
    found["round"]["read_by_drone"] = {"flights": 2}

    assert lastrow("assess", written(tmp_path / "newer.json", found)).code == 0


def test_the_published_form_takes_what_the_command_takes() -> None:
    from jsonschema import Draft202012Validator

    from schemas.json_schema import published

    schema = json.loads(published()["bundle.json"])

    assert list(Draft202012Validator(schema).iter_errors(document())) == []
