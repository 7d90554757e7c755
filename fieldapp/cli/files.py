"""Files that a command is given."""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from schemas.canonical import LARGEST_BYTES
from schemas.trouble import BadInput

if TYPE_CHECKING:
    from PIL.Image import Image


@dataclass(eq=False)
class FileUnread(BadInput):
    """A file that was named can't be read."""

    path: str
    reason: str

    happened = "The file {path} can't be read: {reason}."
    kept = "Nothing was changed."
    do_next = "Look at the name and the rights of {path}, then type the command once more."


@dataclass(eq=False)
class NoPictureFile(BadInput):
    """A file was named whose ending is no picture's."""

    name: str

    happened = "No picture can be written to {name}."
    kept = "Nothing was written; the photo was left as it is."
    do_next = "Name a .png or .jpg file."


def content_of(path: Path) -> bytes:
    """Read a file, a little more than the most that is taken at once.

    Raises
    ------
    FileUnread
        Names the file and the reason.
    """
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise FileUnread(str(path), (error.strerror or "it failed").lower()) from error


def save_picture(picture: "Image", path: Path) -> None:
    """Write a picture in the form that its file's ending names.

    Raises
    ------
    NoPictureFile
        The ending names no form of picture.
    DiskTrouble
        The disk is full, or the folder can't be written into.
    """
    from sync.durable import disk_trouble

    try:
        picture.save(path)
    except ValueError as error:
        raise NoPictureFile(path.name) from error
    except OSError as error:
        raise disk_trouble(error, path.parent) from error


def file_words(words: str) -> str:
    """Make a file's name of words: small letters and digits with strokes between them."""
    return "-".join(re.findall(r"[^\W_]+", words.lower().replace("'", "")))


def write_into(folder: Path, name: str, content: bytes) -> Path:
    """Write a file into a folder, whole or not at all, in place of an older one.

    Raises
    ------
    DiskTrouble
        The disk is full, or the folder can't be written into.
    """
    from sync.durable import disk_trouble, replace_file

    try:
        folder.mkdir(parents=True, exist_ok=True)
        replace_file(folder / name, content)
    except OSError as error:
        raise disk_trouble(error, folder) from error
    return folder / name
