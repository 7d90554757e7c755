"""Storing a round from a bundle, signing it, and finding what was signed by its sheet."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from fieldapp.assess.whole import METHOD_VERSION
from fieldapp.start import open_site
from fieldapp.work.demo import READY
from schemas.canonical import parse_json, revision_of
from tests.demo_mine import CODES
from tests.unit.cli.bundles import changed, round_65, written
from tests.unit.cli.conftest import Terminal, Told, digest_of

CODE = CODES["Day supervisor"]


@pytest.fixture
def bundle(tmp_path: Path) -> Path:
    return written(tmp_path / "round-65.json", round_65())


def entries(lastrow: Terminal, home: Path, kind: str) -> list[Any]:
    return [
        json.loads(line)
        for line in lastrow("export", "--kind", kind, "--home", home).out.splitlines()
    ]


def record(
    lastrow: Terminal, home: Path, bundle: Path, sign: str | None = None, typed: str = CODE
) -> Told:
    words = () if sign is None else ("--sign", sign)
    return lastrow(
        "record", bundle, "--as", "Day supervisor", *words, "--home", home, typed=f"{typed}\n"
    )


def test_a_round_is_stored_as_an_entry_of_its_person(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    told = record(lastrow, home, bundle)
    newest = entries(lastrow, home, "round")[-1]

    assert told.code == 0, told.err
    assert newest["body"]["number"] == 65
    assert newest["body"]["rows"] == json.loads(bundle.read_bytes())["round"]["rows"]


def test_a_stored_round_is_not_signed(lastrow: Terminal, home: Path, bundle: Path) -> None:
    before = len(entries(lastrow, home, "sign_off"))
    told = record(lastrow, home, bundle)

    assert "is recorded, not signed." in told.out
    assert len(entries(lastrow, home, "sign_off")) == before


@pytest.mark.parametrize("decision", ["accepted", "sent back", "barricaded", "Accepted"])
def test_a_round_is_signed_with_a_decision(
    decision: str, lastrow: Terminal, home: Path, bundle: Path
) -> None:
    told = record(lastrow, home, bundle, decision)

    assert told.code == 0, told.err
    assert entries(lastrow, home, "sign_off")[-1]["body"]["decision"] == decision.lower()


def test_an_accepted_round_opens_the_heading_on_the_board(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    record(lastrow, home, bundle, "accepted")
    row = next(line for line in lastrow("board", "--home", home).out.splitlines() if READY in line)

    assert "to 307.7 m, nobody beyond" in row
    assert "Accepted, round 65" in row


def test_a_decision_says_where_entry_is_and_not_what_it_would_allow_alone(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    """The tremor closes 80 m around it, by the demo's standard."""
    lastrow("event", READY, "seismic", "--at", "303.18", "--as", "Day supervisor", "--home", home)

    assert record(lastrow, home, bundle, "accepted").code != 0, "nobody knows what it carries"
    told = record(lastrow, home, bundle, "sent back").out

    assert "Entry to 223.1 m, nobody beyond." in told
    assert "seismic at 303.2 m: until 21:30 UTC and an inspection" in told


@pytest.mark.parametrize(
    ("typed", "said"), [("0000", "not the sign code"), ("", "not the sign code")]
)
def test_a_wrong_code_stores_nothing(
    typed: str, said: str, lastrow: Terminal, home: Path, bundle: Path
) -> None:
    before = len(entries(lastrow, home, "round"))
    told = record(lastrow, home, bundle, "accepted", typed)

    assert [told.code, said in told.sentence] == [2, True]
    assert len(entries(lastrow, home, "round")) == before
    assert record(lastrow, home, bundle, "accepted").code == 0


def test_without_a_code_nothing_is_signed(lastrow: Terminal, home: Path, bundle: Path) -> None:
    told = lastrow(
        "record", bundle, "--as", "Day supervisor", "--sign", "accepted", "--home", home
    )

    assert [told.code, told.sentence] == [2, "The sign code of Day supervisor is missing."]


def test_a_round_that_falls_short_is_not_accepted(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    told = record(lastrow, home, changed(bundle, last_row_marked=None), "accepted")

    assert told.code == 2
    assert told.sentence == (
        "The round was not signed. This round can't be accepted: 1 not looked at."
    )


def test_a_refused_sign_off_says_whether_the_round_was_stored(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    before = len(entries(lastrow, home, "round"))
    told = record(lastrow, home, changed(bundle, last_row_marked=None), "accepted")
    _happened, kept, do_next = told.err.splitlines()

    assert kept == (
        "Nothing was recorded, neither the round nor a decision; the bundle is as it was."
    )
    assert do_next.endswith("Without --sign the round is recorded, not signed.")
    assert len(entries(lastrow, home, "round")) == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--as", "Nobody"), "Nobody is not enrolled at this mine."),
        (("--as", "Records keeper", "--sign", "accepted"), "may not sign off a round"),
        (("--as", "Day supervisor", "--sign", "fine"), "“fine” is no decision."),
    ],
    ids=str,
)
def test_who_may_not_stores_nothing(
    words: tuple[str, ...], said: str, lastrow: Terminal, home: Path, bundle: Path
) -> None:
    before = len(entries(lastrow, home, "round"))
    typed = CODES["Records keeper"] + "\n"
    told = lastrow("record", bundle, *words, "--home", home, typed=typed)

    assert [told.code, said in told.sentence] == [2, True], told.err
    assert len(entries(lastrow, home, "round")) == before


def test_a_round_of_another_mine_s_heading_is_refused(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    found = json.loads(bundle.read_bytes())
    found["round"]["heading"], found["heading"]["name"] = "elsewhere", "Elsewhere"
    told = record(lastrow, home, written(bundle, found))

    assert told.sentence == "No heading is called Elsewhere."


def test_a_round_by_a_standard_that_was_never_adopted_is_refused(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    found = json.loads(bundle.read_bytes())
    found["standard"]["measuring"]["tape_m"] = "0.009"
    told = record(lastrow, home, written(bundle, found))

    assert "never adopted at Wrenfall" in told.sentence


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b'{"a":1,"a":2}'])
def test_a_bundle_that_can_t_be_read_leaves_the_records_untouched(
    raw: bytes, lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    before = digest_of(home)
    told = record(lastrow, home, written(tmp_path / "torn.json", raw))

    assert told.code == 2
    assert digest_of(home) == before


# --- what is printed of it ------------------------------------------------------------------


def test_export_prints_the_very_bytes_of_each_entry(lastrow: Terminal, home: Path) -> None:
    site = open_site(home)
    with site.store:
        kept = {entry.revision for entry in site.store.ledger.all()}
    lines = lastrow("export", "--home", home).out.splitlines()

    assert {revision_of(line.encode()) for line in lines} <= kept
    assert all(parse_json(line.encode(), source="a line") for line in lines)


def test_export_prints_only_what_is_current(lastrow: Terminal, home: Path, bundle: Path) -> None:
    record(lastrow, home, bundle)
    first = len(entries(lastrow, home, "round"))
    record(lastrow, home, changed(bundle, notes=["looked at again"]))

    assert len(entries(lastrow, home, "round")) == first
    assert entries(lastrow, home, "round")[-1]["body"]["notes"] == ["looked at again"]


def test_export_of_a_kind_that_isn_t_one_is_refused(lastrow: Terminal, home: Path) -> None:
    told = lastrow("export", "--kind", "wish", "--home", home)

    assert [told.code, told.sentence] == [2, "“wish” is no kind of entry."]


def code_in(told: Told) -> str:
    return told.out.split("sheet code ")[1].strip()


def test_the_code_of_a_signed_round_is_verified(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    code = code_in(record(lastrow, home, bundle, "accepted"))
    told = lastrow("verify", code, "--home", home)

    assert told.code == 0, told.err
    assert told.out.splitlines()[:2] == [
        f"Round 65 of {READY}, Wrenfall.",
        "Accepted by Day supervisor, shift supervisor.",
    ]
    assert "The signature fits: it is the signer's." in told.out
    assert "The hash fits: it is that of the round judged again." in told.out


def test_a_code_typed_without_its_strokes_is_the_same(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    code = code_in(record(lastrow, home, bundle, "accepted"))

    assert lastrow("verify", code.replace("-", "").lower(), "--home", home).code == 0


def test_one_wrong_character_is_found(lastrow: Terminal, home: Path, bundle: Path) -> None:
    code = code_in(record(lastrow, home, bundle, "accepted"))
    wrong = ("1" if code[0] != "1" else "2") + code[1:]
    told = lastrow("verify", wrong, "--home", home)

    assert [told.code, "is not the code of a round sheet" in told.sentence] == [2, True]


def test_the_sheet_of_another_mine_is_unknown(lastrow: Terminal, home: Path) -> None:
    from fieldapp.report.round_sheet.code import sheet_code

    code = sheet_code("00000000-0000-7000-8000-000000000000", "0" * 64).readable
    told = lastrow("verify", code, "--home", home)

    assert [told.code, "No round of Wrenfall has" in told.sentence] == [2, True]


def test_a_sheet_is_out_of_date_once_the_round_is_looked_at_again(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    code = code_in(record(lastrow, home, bundle, "accepted"))
    record(lastrow, home, changed(bundle, notes=["looked at again"]))
    told = lastrow("verify", code, "--home", home)

    assert told.code == 3
    assert "this sheet is out of date" in told.out


def test_a_sheet_of_which_the_hash_does_not_fit_is_no_sheet_to_rely_on(
    lastrow: Terminal, home: Path, bundle: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its signature fits all the same: a script goes by the exit code alone."""
    code = code_in(record(lastrow, home, bundle, "accepted"))
    monkeypatch.setattr("fieldapp.assess.whole.METHOD_VERSION", METHOD_VERSION + 1)
    told = lastrow("verify", code, "--home", home)

    assert told.code == 3
    assert "The signature fits" in told.out
    assert "The hash does NOT fit." in told.out


def test_a_sheet_that_shows_what_nobody_signed_is_said_so(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    from fieldapp.report.round_sheet.code import sheet_code

    told = record(lastrow, home, bundle, "accepted")
    round_id = told.out.split("Round ")[2].split(",")[0]
    code = sheet_code(round_id, "ab" * 32).readable
    found = lastrow("verify", code, "--home", home)

    assert [found.code, "as nobody has signed it" in found.sentence] == [2, True]


def test_the_sheet_says_the_code_that_verify_takes(
    lastrow: Terminal, home: Path, bundle: Path
) -> None:
    from pypdf import PdfReader

    code = code_in(record(lastrow, home, bundle, "accepted"))
    told = lastrow("sheet", f"{READY} 65", "--home", home)
    text = PdfReader(told.out.strip()).pages[0].extract_text()

    assert told.code == 0
    assert code.replace("-", "") in text.replace("-", "").replace("\n", "").replace(" ", "")


def test_the_handover_is_said_in_words(lastrow: Terminal, home: Path) -> None:
    told = lastrow("handover", "Wrenfall Decline", "--home", home)
    *lines, path = told.out.strip().splitlines()

    assert told.code == 0, told.err
    assert any("missing" in line for line in lines)
    assert Path(path).read_bytes().startswith(b"%PDF")


def test_selfcheck_finds_the_demo_s_records_sound(lastrow: Terminal, home: Path) -> None:
    told = lastrow("selfcheck", "--home", home)

    assert told.code == 0, told.err
    assert len(told.out.splitlines()) == 4


def test_one_of_a_thing_is_no_several(lastrow: Terminal, home: Path) -> None:
    """The demo's records are sealed into one segment."""
    told = lastrow("selfcheck", "--home", home).out

    assert "\n1 segment, every one signed and in its place.\n" in told
    assert " 1 segments" not in told


def test_selfcheck_finds_a_changed_byte(lastrow: Terminal, home: Path) -> None:
    database = home / "lastrow.db"
    raw = database.read_bytes()
    place = raw.index(b'"decision":"barricaded"') + len(b'"decision":"')
    database.write_bytes(raw[:place] + b"accepted,," + raw[place + 10 :])
    told = lastrow("selfcheck", "--home", home)

    assert told.code == 5


def test_selfcheck_tells_what_is_missing_and_puts_it_back(lastrow: Terminal, home: Path) -> None:
    lastrow("board", "--home", home)
    edit(home, "DELETE FROM entry WHERE kind = 'entry_notice'")

    told = lastrow("selfcheck", "--home", home)
    assert told.code == 5
    assert told.sentence.startswith("These records are not whole: entries are missing or altered")
    assert "entry allowed" not in lastrow("board", "--home", home).out

    back = lastrow("selfcheck", "--put-back", "--home", home)
    assert back.code == 0
    assert back.out.startswith("All of it is back as it was sealed.")
    again = lastrow("selfcheck", "--put-back", "--home", home)
    assert again.out.startswith("Nothing was missing.")


def test_selfcheck_tells_it_where_the_segments_are_gone_too(lastrow: Terminal, home: Path) -> None:
    edit(home, "DELETE FROM entry WHERE kind = 'entry_notice'", "DELETE FROM segment")

    told = lastrow("selfcheck", "--home", home)
    assert "of the segments that this tablet sealed, 1 to 1, some are gone" in told.sentence
    back = lastrow("selfcheck", "--put-back", "--home", home)
    assert back.sentence == told.sentence


def test_selfcheck_and_board_tell_what_was_remembered_wrongly(
    lastrow: Terminal, home: Path
) -> None:
    lastrow("board", "--home", home)
    edit(home, "UPDATE gathered SET content = x'7b7d'")

    board = lastrow("board", "--home", home).out
    assert "What was remembered of 4130 Cuddy 2 and 6 more was not" in board
    edit(home, "UPDATE gathered SET content = x'7b7d'")
    told = lastrow("selfcheck", "--home", home)
    assert told.sentence.startswith("What was remembered of ")


def edit(home: Path, *statements: str) -> None:
    with closing(sqlite3.connect(home / "lastrow.db")) as database:
        for statement in statements:
            database.execute(statement)
        database.commit()
