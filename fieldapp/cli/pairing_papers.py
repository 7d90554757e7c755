"""Writing the request of a tablet and the answer of the office where somebody named a file."""

from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.cli.files import write_into

if TYPE_CHECKING:
    from sync.pairing import PairingAnswer, PairingRequest

PICTURE = ".png"


def write_paper(paper: "PairingRequest | PairingAnswer", file: Path) -> Path:
    """Write either to a file; one that ends in .png is a picture of its square code."""
    content = paper.content()
    if file.suffix.lower() == PICTURE:
        from fieldapp.report.square_code import square_code_png

        content = square_code_png(content.decode())
    return write_into(file.absolute().parent, file.name, content)
