"""What stands on a page of a PDF: its words, where each of them stands, its letters."""

from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

from fieldapp.report.letters import CAPITAL, MM_PER_POINT, width_mm


@dataclass(frozen=True)
class Run:
    """Some letters on the page; y is the baseline, upwards from the lower edge. [mm]."""

    text: str
    x: float
    y: float
    size_pt: float
    bold: bool

    @property
    def right(self) -> float:
        return self.x + width_mm(self.text, self.size_pt, bold=self.bold)

    @property
    def top(self) -> float:
        return self.y + self.size_pt * MM_PER_POINT * CAPITAL

    def meets(self, other: "Run") -> bool:
        """Whether the two overlap by more than a hair."""
        hair = 0.15
        return (
            self.x + hair < other.right
            and other.x + hair < self.right
            and self.y + hair < other.top
            and other.y + hair < self.top
        )


@lru_cache(maxsize=64)  # each sheet of a parametrized test is read once, not by each test
def reader_of(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf))


def words_of(pdf: bytes) -> str:
    """All words of the file, one space between each: lines may break anywhere."""
    return " ".join(run.text for run in runs_of(pdf)).replace("\u00a0", " ")


def flat(text: str) -> str:
    return "".join(text.split())


@lru_cache(maxsize=64)
def runs_of(pdf: bytes, *, watermark: bool = False, page: int = 1) -> tuple[Run, ...]:
    """Every run of upright letters on a page; with the watermark if asked for."""
    found: list[Run] = []

    def visit(text: str, _cm: Any, matrix: list[float], font: Any, size: float) -> None:
        upright = abs(_cm[1]) < 1e-6
        if text.strip() and (upright or watermark):
            bold = "Bold" in str((font or {}).get("/BaseFont", ""))
            x, y = matrix[4] * MM_PER_POINT, matrix[5] * MM_PER_POINT
            found.append(Run(text.strip("\n "), x, y, size, bold))

    reader_of(pdf).pages[page - 1].extract_text(visitor_text=visit)
    return tuple(found)


def sizes_of(pdf: bytes) -> set[float]:
    """The sizes of letters that the page sets."""
    reader = reader_of(pdf)
    stream = ContentStream(reader.pages[0].get_contents(), reader)
    return {float(operands[1]) for operands, name in stream.operations if name == b"Tf"}
