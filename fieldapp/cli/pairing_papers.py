"""The request of a tablet and the answer of the office, as files or pictures of a square code."""

from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.cli.files import content_of, write_into

if TYPE_CHECKING:
    from sync.pairing import PairingAnswer, PairingRequest

PICTURE = ".png"


def request_in(file: Path) -> "PairingRequest":
    """Read a tablet's request, as it was written or photographed.

    Raises
    ------
    FileUnread, NoPairing
        Names the file and the reason.
    """
    from sync.pairing import read_request

    return read_request(_said_in(file), source=file.name)


def answer_in(file: Path) -> "PairingAnswer":
    """Read the office's answer, as it was written or photographed.

    Raises
    ------
    FileUnread, NoPairing
        Names the file and the reason.
    """
    from sync.pairing import read_answer

    return read_answer(_said_in(file), source=file.name)


def write_paper(paper: "PairingRequest | PairingAnswer", file: Path) -> Path:
    """Write either to a file; one that ends in .png is a picture of its square code."""
    content = paper.content()
    if file.suffix.lower() == PICTURE:
        from fieldapp.report.square_code import square_code_png

        content = square_code_png(content.decode())
    return write_into(file.absolute().parent, file.name, content)


def _said_in(file: Path) -> bytes:
    """Give the text that a file holds; what a square code in a picture says, if it is one."""
    content = content_of(file)
    if content.lstrip()[:1] == b"{":
        return content
    from fieldapp.work.square_codes import texts_in_picture

    return next((text.encode() for text in texts_in_picture(content)), content)
