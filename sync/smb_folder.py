"""A shared folder on a server that speaks SMB, reached without the system's mounting it.

Needs the extra `smb`. One connection is kept for as long as the folder is used, and made anew
where it broke. Renaming never replaces a file that is good: a server refuses to replace what
anybody has open, and "exists" with the same bytes is success.
"""

import contextlib
import secrets
import time
import uuid
import weakref
from collections.abc import Iterable, Iterator
from typing import Any

import smbclient
from smbprotocol.connection import Connection
from smbprotocol.exceptions import (
    SMBAuthenticationError,
    SMBException,
    SMBOSError,
    SMBResponseException,
)

from sync.durable import WAITS_S
from sync.folder import (
    Folder,
    Listed,
    NotThere,
    NotYet,
    ShareFails,
    ShareFull,
    ShareGone,
    ShareReadOnly,
)
from sync.names import ROOT
from sync.smb_place import SmbPlace
from sync.smb_status import COLLISION, DENIED, HELD, NotLetIn, trouble_of

ANSWERS_WITHIN_S = 20
"""A server that is silent for longer is gone; whole seconds."""

Connections = dict[str, Any]


class SmbFolder(Folder):
    """A folder of a share that holds `lastrow1/`.

    Parameters
    ----------
    where : SmbPlace
        Where it is, and who asks for it.
    password : str or None
        The user's; None where the system vouches for whoever is signed in.
    answers_within_s : int
        A server that is silent for longer is gone. [s]
    """

    def __init__(
        self, where: SmbPlace, password: str | None, *, answers_within_s: int = ANSWERS_WITHIN_S
    ) -> None:
        self.place = str(where)
        self._where = where
        self._password = password
        self._answers_within_s = answers_within_s
        self._connections: Connections = {}
        weakref.finalize(self, _hang_up, self._connections)

    def listing(self, path: str) -> Iterable[Listed]:
        """Give the names in a folder."""
        try:
            with self._told_of(path), smbclient.scandir(self._at(path), **self._by()) as found:
                for entry in found:
                    yield Listed(entry.name, entry.smb_info.end_of_file)
        except NotThere:
            self._be_there()

    def read(self, path: str, *, at_most: int) -> bytes:
        """Give a file's bytes."""
        try:
            with self._told_of(path):
                return self._content(path, at_most + 1)
        except NotThere:
            self._be_there()
            raise
        except (ShareReadOnly, ShareFails) as error:
            raise NotYet(path) from error

    def put(self, path: str, content: bytes) -> None:
        """Write a new file so that no reader ever meets half of it under its name."""
        with contextlib.ExitStack() as if_it_fails, self._told_of(path):
            there = self._there(path, len(content))
            if there == content:
                return
            part = f"{path.rpartition('/')[0]}/t-{secrets.token_hex(8)}.tmp".lstrip("/")
            if_it_fails.callback(self._clear_away, part)
            self._write_through(part, content)
            self._rename(part, path, content, over=there is not None)
            if_it_fails.pop_all()

    def remove(self, path: str) -> None:
        """Take away a file of this tablet's own; gone is gone."""
        with contextlib.suppress(NotThere), self._told_of(path):
            smbclient.remove(self._at(path), **self._by())

    def _at(self, path: str) -> str:
        return self._where.below(f"{ROOT}/{path}".rstrip("/"))

    def _content(self, path: str, most: int) -> bytes:
        with smbclient.open_file(
            self._at(path), mode="rb", share_access="rwd", **self._by()
        ) as file:
            content: bytes = file.read(most)
        return content

    def _there(self, path: str, size: int) -> bytes | None:
        """Give what a file holds, a byte more than it should have at most; None for no file."""
        try:
            with self._told_of(path):
                return self._content(path, size + 1)
        except NotThere:
            return None

    def _write_through(self, part: str, content: bytes) -> None:
        file = self._opened(part)
        with file:
            left = memoryview(content)
            while left:
                written = file.write(left)
                if not written:
                    raise ShareFull(self.place)
                left = left[written:]
            file.flush()
            file.fd.close(get_attributes=True)
        if file.fd.end_of_file != len(content):
            raise ShareFull(self.place)

    def _opened(self, part: str) -> Any:
        """Open a new file; its folder is made where the share is there and has none."""
        try:
            with self._told_of(part):
                return self._new_file(part)
        except NotThere:
            folder = part.rpartition("/")[0]
            self._be_there(to_write_in=folder)
            smbclient.makedirs(self._at(folder), exist_ok=True, **self._by())
            return self._new_file(part)

    def _new_file(self, part: str) -> Any:
        return smbclient.open_file(
            self._at(part), mode="xb", buffering=0, share_access="r", **self._by()
        )

    def _rename(self, part: str, path: str, content: bytes, *, over: bool) -> None:
        """Give a file its name; what is torn is replaced, what stands in the way waited for.

        Whatever the server says, the file is there if it is read back as it should be.
        """
        move = smbclient.replace if over else smbclient.rename
        stands_in_the_way = HELD | {DENIED} if over else HELD
        for wait_s in (*WAITS_S, None):
            try:
                move(self._at(part), self._at(path), **self._by())
            except SMBOSError as error:
                if self._there(path, len(content)) == content:
                    return self._clear_away(part)
                if error.ntstatus not in stands_in_the_way | {COLLISION}:
                    raise
                if error.ntstatus == COLLISION or wait_s is None:
                    raise NotYet(path) from error
                time.sleep(wait_s)
            else:
                return None
        return None

    def _clear_away(self, part: str) -> None:
        with contextlib.suppress(NotYet, ShareGone, ShareReadOnly):
            if self._is_connected():
                self.remove(part)

    def _is_connected(self) -> bool:
        return any(it.transport.connected for it in self._connections.values())

    def _be_there(self, to_write_in: str = "") -> None:
        """Make sure that the share is; only its `store.json` is written where there is none."""
        there = self._at("") if to_write_in else self._where.below()
        try:
            with self._told_of(""):
                smbclient.stat(there, **self._by())
        except NotThere as error:
            raise ShareGone(self.place, "there is no such folder") from error

    def _by(self) -> dict[str, Any]:
        """Give what each call is told, over a connection that stands; made anew if it broke."""
        ours = {"connection_cache": self._connections, "port": self._where.port}
        if not self._is_connected():
            self._connect(ours)
        return {**ours, "username": self._where.user}

    def _connect(self, ours: dict[str, Any]) -> None:
        _hang_up(self._connections)
        server, user = self._where.server, self._where.user
        line = _Line(server, self._where.port, self._answers_within_s)
        try:
            line.connect(timeout=self._answers_within_s)
        except ValueError as error:  # its word for a server that is not reached
            raise ShareGone(self.place, "the server is not reached") from error
        self._connections[f"{server.lower()}:{self._where.port}"] = line
        try:
            smbclient.register_session(server, username=user, password=self._password, **ours)
        except SMBAuthenticationError as error:
            raise NotLetIn(self.place, "it can't be told who asks") from error

    @contextlib.contextmanager
    def _told_of(self, path: str) -> Iterator[None]:
        try:
            yield
        except SMBOSError as error:
            raise trouble_of(error.ntstatus, self.place, path) from error
        except SMBResponseException as error:
            raise trouble_of(error.status, self.place, path) from error
        except (SMBException, OSError) as error:
            _hang_up(self._connections)
            raise ShareGone(self.place, "the server does not answer") from error


class _Line(Connection):  # type: ignore[misc]  # it has no types
    """A connection that waits for no answer for ever."""

    def __init__(self, server: str, port: int, answers_within_s: int) -> None:
        super().__init__(uuid.uuid4(), server, port)
        self._answers_within_s = answers_within_s

    def connect(self, *given: Any, **named: Any) -> None:
        super().connect(*given, **named)
        self.transport._sock.settimeout(self._answers_within_s)

    def receive(self, request: Any, *given: Any, **named: Any) -> Any:
        return super().receive(request, *given, **{"timeout": self._answers_within_s, **named})


def _hang_up(connections: Connections) -> None:
    """End every connection; what was open over it is closed by that."""
    while connections:
        _, line = connections.popitem()
        for session in line.session_table.values():
            for opened in session.open_table.values():
                opened._connected = False
        with contextlib.suppress(SMBException, OSError):
            line.disconnect(close=False)
