"""A shared folder that a driver of fsspec reaches: an object store, a server for files.

Needs the extra `fsspec` and the driver that an address asks for. How a file is put so that no
reader meets half of it depends on what is there:

- an object store shows an object whole or not at all, and can't rename: the object is written
  under its final name;
- anything else is given a temporary file, its size is looked at, and it is renamed: where the
  driver's `mv` is a renaming of the server's own. The default of fsspec copies and removes, and
  a reader would meet half of the copy: such a place is refused.

Nothing here can be synced to a disk; that a file arrived is another machine's word, as ever.
"""

import contextlib
import errno
import secrets
from collections.abc import Iterable, Iterator
from typing import Any

from fsspec import AbstractFileSystem, get_filesystem_class
from fsspec.core import url_to_fs

from sync.folder import Folder, Listed, NotThere, NotYet, ShareFull, ShareGone, ShareReadOnly
from sync.names import ROOT

OBJECT_STORES = frozenset(
    {"s3", "s3a", "gs", "gcs", "abfs", "abfss", "az", "oci", "oss", "memory"}
)
"""They show an object once all of it is there. `memory` is fsspec's own, in this process."""
_FULL = frozenset({errno.ENOSPC, errno.EDQUOT})
_NO_SUCH_FILE = (FileNotFoundError, NotADirectoryError, IsADirectoryError)


def keeps_files_whole(protocol: str) -> bool:
    """Whether a reader of such a place meets whole files only.

    Raises
    ------
    ValueError
        Nobody knows the protocol.
    ImportError
        Its driver is not installed.
    """
    driver: type[AbstractFileSystem] = get_filesystem_class(protocol)
    return protocol in OBJECT_STORES or driver.mv is not AbstractFileSystem.mv


class FsspecFolder(Folder):
    """A folder that a driver of fsspec reaches, which holds `lastrow1/`.

    Parameters
    ----------
    url : str
        Its address, as fsspec writes them, of a place that keeps files whole.
    options : object
        What the driver is told besides.
    """

    def __init__(self, url: str, **options: Any) -> None:
        self.place = url
        self._options = options
        self._is_object_store = url.partition("://")[0] in OBJECT_STORES
        self._opened: tuple[Any, str] | None = None

    def listing(self, path: str) -> Iterable[Listed]:
        """Give the names in a folder."""
        try:
            with self._told_of(path):
                found = self._files().ls(self._at(path), detail=True)
        except NotThere:
            self._be_there()
            return
        itself = self._at(path).strip("/")
        for entry in found:
            name = entry["name"].strip("/")
            if name != itself:
                yield Listed(name.rpartition("/")[2], entry.get("size") or 0)

    def read(self, path: str, *, at_most: int) -> bytes:
        """Give a file's bytes."""
        try:
            return self._content(path, at_most + 1)
        except NotThere:
            self._be_there()
            raise
        except ShareReadOnly as error:
            raise NotYet(path) from error

    def put(self, path: str, content: bytes) -> None:
        """Write a file so that no reader ever meets half of it under its name."""
        there = self._there(path, len(content) + 1)
        if there == content:
            return
        folder = path.rpartition("/")[0]
        self._be_there(to_write_in=folder)
        try:
            with self._told_of(path):
                if self._is_object_store:
                    self._files().pipe_file(self._at(path), content)
                else:
                    self._files().makedirs(self._at(folder), exist_ok=True)
                    self._write(path, content, over=there is not None)
        except NotThere as error:
            raise ShareGone(self.place, "there is no such folder") from error
        except ShareGone as error:
            # Many drivers have but one error for all: what can still be read may not be written.
            with self._told_of(path):
                self._files().ls(self._at(""))
            raise ShareReadOnly(f"{self.place}/{path}") from error

    def remove(self, path: str) -> None:
        """Take away a file of this tablet's own; gone is gone."""
        with contextlib.suppress(NotThere), self._told_of(path):
            if self._files().exists(self._at(path)):
                self._files().rm(self._at(path))

    def _files(self) -> Any:
        """Give the driver, with nothing remembered; anew where it failed before."""
        if self._opened is None:
            self._opened = url_to_fs(self.place, skip_instance_cache=True, **self._options)
        self._opened[0].invalidate_cache()
        return self._opened[0]

    def _at(self, path: str) -> str:
        assert self._opened  # noqa: S101 - the driver is asked for first
        return f"{self._opened[1].rstrip('/')}/{ROOT}/{path}".rstrip("/")

    def _content(self, path: str, most: int) -> bytes:
        with self._told_of(path), self._files().open(self._at(path), "rb") as file:
            content: bytes = file.read(most)
        return content

    def _there(self, path: str, most: int) -> bytes | None:
        try:
            return self._content(path, most)
        except NotThere:
            return None

    def _write(self, path: str, content: bytes, *, over: bool) -> None:
        """Write a temporary file and rename it; what is torn goes first: not all rename over."""
        part = f"{path.rpartition('/')[0]}/t-{secrets.token_hex(8)}.tmp".lstrip("/")
        with contextlib.ExitStack() as if_it_fails:
            if_it_fails.callback(self._clear_away, part)
            self._files().pipe_file(self._at(part), content)
            if self._files().info(self._at(part))["size"] != len(content):
                raise ShareFull(self.place)
            if over:
                self.remove(path)
            self._rename(part, path, content)
            if_it_fails.pop_all()

    def _rename(self, part: str, path: str, content: bytes) -> None:
        """Give a file its name: it has it if it is read back under it, whatever was answered."""
        try:
            with self._told_of(path):
                self._files().mv(self._at(part), self._at(path))
        except (NotThere, ShareGone, ShareReadOnly):
            if self._there(path, len(content) + 1) != content:
                raise

    def _clear_away(self, part: str) -> None:
        with contextlib.suppress(ShareGone, ShareReadOnly):
            self.remove(part)

    def _be_there(self, to_write_in: str = "") -> None:
        """Make sure that the share is; an object store has no folders that could be missing."""
        if self._is_object_store:
            return
        with self._told_of(""):
            files = self._files()
            there = self._at("") if to_write_in else self._at("").rpartition("/")[0]
            if there and not files.isdir(there):
                raise ShareGone(self.place, "there is no such folder")

    @contextlib.contextmanager
    def _told_of(self, path: str) -> Iterator[None]:
        try:
            yield
        except _NO_SUCH_FILE as error:
            raise NotThere(path) from error
        except PermissionError as error:
            raise ShareReadOnly(f"{self.place}/{path}".rstrip("/")) from error
        except Exception as error:
            if not _is_of_the_place(error):
                raise
            self._opened = None
            if isinstance(error, OSError) and error.errno in _FULL:
                raise ShareFull(self.place) from error
            raise ShareGone(self.place, str(error).rstrip(".") or type(error).__name__) from error


def _is_of_the_place(error: Exception) -> bool:
    """Whether the system or a driver raised it: Python's own are bugs, ours are told already."""
    home = type(error).__module__.partition(".")[0]
    return isinstance(error, OSError | EOFError) or home not in ("builtins", "sync")
