"""The form of a backup: everything that brings a tablet back, in one file that proves itself.

A zip file with the database, `mine.json`, the settings and photos, and a manifest with the
SHA-256 of each. It holds the tablet's own key, and people's keys under their sign codes:
whoever keeps it, keeps it as the tablet itself.
"""

import hashlib
import os
import re
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Annotated

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from fieldapp.store.home import DATABASE, MINE_FILE, PHOTOS, SETTINGS_FILE
from fieldapp.store.whose import Whose
from schemas.identifiers import Sha256
from schemas.trouble import BadInput
from sync.durable import sync_folder

FORMAT = 1
MANIFEST = "manifest.json"
ENDING = ".lastrow"

_LONGEST_MANIFEST = 16 * 1024 * 1024
_A_PHOTO = re.compile(PHOTOS + r"/[0-9a-f]{2}/[0-9a-f]{64}\.[a-z]{3,4}")
_AT_ONCE = 1024 * 1024
_TORN = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    KeyError,
    NotImplementedError,
    RuntimeError,
    ValueError,
)
"""What the library raises about bytes that are no zip file, or not one that we write."""


@dataclass(eq=False)
class BadBackup(BadInput):
    """A file is no backup, or not whole any more."""

    path: str
    reason: str
    happened = "The backup {path} can't be used: {reason}."
    kept = "Nothing was changed."
    do_next = "Take another one: the newest lie in the folder backups, beside the database."


class Packed(BaseModel):
    """One file of a backup."""

    model_config = ConfigDict(frozen=True)

    name: str
    size: Annotated[int, Field(ge=0)]
    sha256: Sha256


class Manifest(BaseModel):
    """What a backup says of itself. A newer version's fields do no harm."""

    model_config = ConfigDict(frozen=True)

    lastrow_backup: int = FORMAT
    made_at: AwareDatetime
    whose: Whose
    version: str
    """Of the database."""
    entries: int
    files: tuple[Packed, ...] = ()


@dataclass(frozen=True)
class Backup:
    """A backup that was read from end to end and is whole."""

    path: Path
    size: int
    manifest: Manifest

    @property
    def photos(self) -> int:
        """How many photos it holds."""
        return sum(1 for file in self.manifest.files if _A_PHOTO.fullmatch(file.name))


def pack(out: IO[bytes], manifest: Manifest, files: dict[str, Path]) -> None:
    """Write a backup of files, and put them down in its manifest."""
    with zipfile.ZipFile(out, "w") as packed:
        summed = tuple(_pack_one(packed, name, path) for name, path in files.items())
        said = manifest.model_copy(update={"files": summed}).model_dump_json(indent=2)
        packed.writestr(zipfile.ZipInfo(MANIFEST), said)


def read_backup(path: Path) -> Backup:
    """Read a backup from end to end.

    Raises
    ------
    BadBackup
        It is none, not whole, a newer version's, or can't be read at all.
    """
    try:
        with _told(path), zipfile.ZipFile(path) as packed:
            manifest = _manifest(path, packed)
            for file in manifest.files:
                with packed.open(file.name) as content:
                    _check(path, file, _copied(content, None, file.size))
        return Backup(path, path.stat().st_size, manifest)
    except OSError as error:
        reason = (error.strerror or "it can't be read").lower()
        raise BadBackup(str(path), reason) from error


def unpack(backup: Backup, folder: Path) -> None:
    """Lay the files of a backup into a folder, each on the disk and as it was put in.

    Raises
    ------
    BadBackup
        It is not any more what was read.
    OSError
        The folder can't be written.
    """
    with _told(backup.path), zipfile.ZipFile(backup.path) as packed:
        for file in backup.manifest.files:
            place = folder / file.name
            place.parent.mkdir(parents=True, exist_ok=True)
            with packed.open(file.name) as content, place.open("xb") as out:
                _check(backup.path, file, _copied(content, out, file.size))
                out.flush()
                os.fsync(out.fileno())
            sync_folder(place.parent)


def _pack_one(packed: zipfile.ZipFile, name: str, path: Path) -> Packed:
    inside = zipfile.ZipInfo(name)  # its time is none: a clock may be years wrong
    is_packed_already = _A_PHOTO.fullmatch(name) is not None
    inside.compress_type = zipfile.ZIP_STORED if is_packed_already else zipfile.ZIP_DEFLATED
    with path.open("rb") as content, packed.open(inside, "w", force_zip64=True) as out:
        size, sha256 = _copied(content, out, path.stat().st_size)
    return Packed(name=name, size=size, sha256=sha256)


def _copied(content: IO[bytes], out: IO[bytes] | None, at_most: int) -> tuple[int, str]:
    """Copy a file, and stop where it is longer than it should be; give its size and SHA-256."""
    digest, size = hashlib.sha256(), 0
    while size <= at_most and (piece := content.read(_AT_ONCE)):
        digest.update(piece)
        size += len(piece)
        if out is not None:
            out.write(piece)
    return size, digest.hexdigest()


def _check(path: Path, file: Packed, found: tuple[int, str]) -> None:
    if found != (file.size, file.sha256):
        raise BadBackup(str(path), f"{file.name} in it is not what was put in")


def _manifest(path: Path, packed: zipfile.ZipFile) -> Manifest:
    with packed.open(MANIFEST) as file:
        manifest = Manifest.model_validate_json(file.read(_LONGEST_MANIFEST))
    if manifest.lastrow_backup != FORMAT:
        raise BadBackup(str(path), "a newer version of the program has written it")
    names = {file.name for file in manifest.files}
    others = names - {DATABASE, MINE_FILE, SETTINGS_FILE}
    if DATABASE not in names or not all(map(_A_PHOTO.fullmatch, others)):
        raise BadBackup(str(path), "it holds other files than a home does")
    return manifest


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Say of bytes that are no backup that they are none."""
    try:
        yield
    except ValidationError as error:
        raise BadBackup(str(path), "its manifest can't be read") from error
    except _TORN as error:
        raise BadBackup(str(path), "it is torn, or no backup at all") from error
