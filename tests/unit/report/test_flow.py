"""Pages: nothing is torn or lost, and a table says on each page what its columns are."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from fieldapp.report.pages.flow import (
    Pages,
    Piece,
    pages_pdf,
    text_pieces,
    title_piece,
    with_what_follows,
)
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.pens.pdf import A4
from fieldapp.report.report_code import report_code
from fieldapp.report.round_sheet.blocks import Block
from sync.outcome import Progress, Stopped
from tests.unit.report.pages import reader_of

AT = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
PAGES = Pages(
    paper=A4,
    title="Heading report",
    mine="Wrenfall",
    code=report_code("H", "00000000", AT, "4f" * 32),
    printed="6 May 2031 09:30 UTC",
    printed_at=AT,
    demo=False,
)
COLUMNS = (Column("round", 1), Column("what was found", 3), Column("metres", 1, "right"))


def pages_of(pieces: list[Piece]) -> list[str]:
    return [page.extract_text() for page in reader_of(pages_pdf(PAGES, pieces)).pages]


def test_a_table_that_breaks_repeats_its_head_and_loses_no_row() -> None:
    rows = [Row((f"round{it}", f"finding {it}", "1.20")) for it in range(200)]
    said = pages_of(table(COLUMNS, rows, PAGES.wide_mm, nothing="None."))
    words = " ".join(" ".join(said).split())

    assert len(said) > 2
    assert all("what was found" in page for page in said)
    assert [it for it in range(200) if f"round{it} " not in words] == []


def test_a_long_name_wraps_in_its_cell_and_all_of_it_is_there() -> None:
    name = "4180 Ore Drive North beyond the second crosscut, refuge and old pump station"
    said = pages_of(table(COLUMNS, [Row(("1", name, "1.20"))], PAGES.wide_mm, nothing="None."))

    assert name in " ".join(said[0].split())


def test_a_title_never_stands_alone_at_the_end_of_a_page() -> None:
    for filled in range(54, 66, 2):
        pieces = text_pieces("word\n", 100.0) * filled
        said = pages_of([*pieces, title_piece("Damage"), *text_pieces("torn mesh", 100.0)])
        with_title = [page for page in said if "Damage" in page]

        assert len(with_title) == 1
        assert "torn mesh" in with_title[0]


def test_what_belongs_together_is_on_one_page_and_what_has_no_room_on_one_is_parted() -> None:
    def said(lines: int) -> list[str]:
        words = with_what_follows(text_pieces("word", 100.0) * lines)
        return pages_of([*text_pieces("before", 100.0) * 40, *words, *text_pieces("end", 100.0)])

    assert [("word" in it, "end" in it) for it in said(50)] == [(False, False), (True, True)]
    assert len(said(200)) == 4, "as many pages as its lines need, not one for each"


def test_a_table_of_nothing_says_so_in_place_of_a_bare_head() -> None:
    said = pages_of(table(COLUMNS, [], PAGES.wide_mm, nothing="No round was recorded."))

    assert "No round was recorded." in said[0]
    assert "what was found" not in said[0]


def test_whoever_watches_is_told_of_each_page_and_may_stop_it() -> None:
    told: list[tuple[int, int]] = []

    def watch(progress: Progress) -> None:
        told.append((progress.done, progress.of))
        if progress.done == 1:
            raise Stopped

    high = [Piece(Block(200.0, lambda _pen, _top: None)) for _ in range(3)]
    watched = Pages(**{**vars(PAGES), "watch": watch})
    held = _open_files()
    with pytest.raises(Stopped):
        pages_pdf(watched, high)

    assert told == [(0, 3), (1, 3)]
    assert _open_files() == held, "the files of its letters are given back"


def _open_files() -> list[str]:
    """Name the fonts that this process holds open, where the system tells."""
    held = Path("/proc/self/fd")
    links = (
        [str(it.readlink()) for it in held.iterdir() if it.is_symlink()] if held.exists() else []
    )
    return sorted(it for it in links if it.endswith(".ttf"))
