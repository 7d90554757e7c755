"""The request of a tablet and the answer of the office, as files or pictures of a square code."""

from pathlib import Path
from typing import Final

from fieldapp.work.enrol.joining import request
from fieldapp.work.photo.square_codes import texts_in_photo
from fieldapp.work.site import Site
from sync.durable import disk_trouble, replace_file
from sync.pairing import PairingAnswer, PairingRequest, read_answer, read_request

LARGEST_BYTES: Final = 1_000_000
"""A request or an answer is some hundred bytes; a photo is read by whoever knows photos."""
ANSWER_ENDINGS: Final = (".json", ".png", ".jpg", ".jpeg", ".webp")


def request_at(path: Path) -> PairingRequest:
    """Read a tablet's request, as it was written or photographed.

    Raises
    ------
    DiskTrouble
        The file can't be read.
    NoPhoto, NoPairing
        It is no photo that can be used, or holds no request.
    """
    return read_request(_said_at(path), source=path.name)


def answer_at(path: Path) -> PairingAnswer:
    """Read the office's answer, as it was written or photographed.

    Raises
    ------
    DiskTrouble
        The file can't be read.
    NoPhoto, NoPairing
        It is no photo that can be used, or holds no answer.
    """
    return read_answer(_said_at(path), source=path.name)


def write_request(site: Site, folder: Path) -> Path:
    """Write this tablet's request into a folder, and give the file.

    Raises
    ------
    DiskTrouble
        The folder can't be written into.
    """
    asked = request(site)
    path = folder / f"tablet-{asked.tablet}.json"
    try:
        replace_file(path, asked.content())
    except OSError as error:
        raise disk_trouble(error, folder) from error
    return path


def _said_at(path: Path) -> bytes:
    """Give the text that a file holds; what a square code in it says, if it is a photo."""
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_BYTES)
    except OSError as error:
        raise disk_trouble(error, path) from error
    if content.lstrip()[:1] == b"{":
        return content
    return next((text.encode() for text in texts_in_photo(path)), b"")
