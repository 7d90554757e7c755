"""A PostgreSQL server of the tests' own: a folder, a socket in it, nobody else's data."""

import os
import pwd
import secrets
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psycopg
from psycopg import sql

from tests.not_tried import not_tried
from tests.run.place import MEMORY, has_room
from tests.run.tools import postgres_programs

WHAT = "an office's database on a PostgreSQL server"
STARTS_WITHIN_S = 120.0
PORT = 5432
OWNER = "lastrow"
UNPRIVILEGED = ("postgres", "nobody")
"""Whom the server runs as where the tests run as root: it refuses that."""
QUICK = ("fsync=off", "full_page_writes=off")
"""What a machine's power cut does to a server is the server's; nobody cuts it here."""
SETTINGS = ("listen_addresses=", f"port={PORT}", "max_connections=40", "shared_buffers=64MB")


@dataclass
class Postgres:
    """A server that runs, and the databases that were made on it.

    Parameters
    ----------
    folder : Path
        Everything that it keeps.
    command : list of str
        What starts it.
    as_whom : dict
        As whom it runs.
    """

    folder: Path
    command: list[str]
    as_whom: dict[str, Any]
    _process: "subprocess.Popen[bytes] | None" = None

    def start_again(self) -> None:
        """Start it and wait until it answers."""
        with (self.folder / "log").open("wb") as log:
            self._process = server = subprocess.Popen(  # noqa: S603
                self.command,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=log,
                **self.as_whom,
            )
        until = time.monotonic() + STARTS_WITHIN_S
        while not self.answers():
            said = (self.folder / "log").read_text(errors="replace")
            assert server.poll() is None, f"PostgreSQL ended: {said}"
            assert time.monotonic() < until, f"PostgreSQL did not start: {said}"
            time.sleep(0.1)

    def crash(self) -> None:
        """End it at once, whatever it is at; it recovers when it is started again."""
        self._end(signal.SIGQUIT)

    def stop(self) -> None:
        """End it, and everybody's connections."""
        self._end(signal.SIGINT)

    def new_database(self, encoding: str = "UTF8") -> str:
        """Make an empty database and give its address."""
        name = f"office_{secrets.token_hex(4)}"
        made = sql.SQL("CREATE DATABASE {} ENCODING {} LOCALE 'C' TEMPLATE template0")
        self._do(made.format(sql.Identifier(name), sql.Literal(encoding)))
        return self.address(name)

    def copied(self, address: str) -> str:
        """Make a database like one that nobody has open, and give its address."""
        name = f"office_{secrets.token_hex(4)}"
        made = sql.SQL("CREATE DATABASE {} TEMPLATE {}")
        self._do(made.format(sql.Identifier(name), sql.Identifier(name_in(address))))
        return self.address(name)

    def drop(self, address: str) -> None:
        """Drop a database, whoever has it open."""
        dropped = sql.SQL("DROP DATABASE IF EXISTS {} WITH (FORCE)")
        self._do(dropped.format(sql.Identifier(name_in(address))))

    def address(self, name: str) -> str:
        """Give the address of a database of this server."""
        return f"postgresql+psycopg://{OWNER}@/{name}?host={self.folder}&port={PORT}"

    def words(self, address: str = "@/postgres?") -> str:
        """Say where a database is, in the words of the plain driver."""
        return f"host={self.folder} port={PORT} user={OWNER} dbname={name_in(address)}"

    def answers(self) -> bool:
        """Tell whether it takes connections."""
        try:
            psycopg.connect(self.words(), connect_timeout=5).close()
        except psycopg.OperationalError:
            return False
        return True

    def _do(self, statement: sql.Composed) -> None:
        with psycopg.connect(self.words(), autocommit=True) as connection:
            connection.execute(statement)

    def _end(self, how: signal.Signals) -> None:
        if self._process is not None:
            self._process.send_signal(how)
            self._process.wait()
            self._process = None


def name_in(address: str) -> str:
    """Give the name of the database in an address."""
    return address.partition("@/")[2].partition("?")[0]


@contextmanager
def postgres(*, quick: bool = True) -> Iterator[Postgres]:
    """Start a server, and end it; where none can be had, that is noted."""
    installed = postgres_programs()
    if installed is None:
        not_tried(WHAT, "the server is not installed")
    where = MEMORY if quick and has_room(MEMORY) else Path("/tmp")  # noqa: S108 - short: a socket
    folder = Path(tempfile.mkdtemp(prefix="lastrow-pg-", dir=where))
    as_whom = _as_whom(folder)
    made = ["-D", str(folder / "data"), "-U", OWNER, "-A", "trust", "-E", "UTF8", "--no-sync"]
    settings = (*SETTINGS, f"unix_socket_directories={folder}", *(QUICK if quick else ()))
    words = [word for setting in settings for word in ("-c", setting)]
    server = Postgres(
        folder, [str(installed / "postgres"), "-D", str(folder / "data"), *words], as_whom
    )
    try:
        _run([str(installed / "initdb"), *made], as_whom)
        server.start_again()
        yield server
    finally:
        server.stop()
        shutil.rmtree(folder, ignore_errors=True)


def _as_whom(folder: Path) -> dict[str, Any]:
    """Say as whom the server runs, and give that user its folder."""
    if os.geteuid() != 0:
        return {}
    names = {it.pw_name: it for it in pwd.getpwall()}
    user = next(names[name] for name in UNPRIVILEGED if name in names)
    os.chown(folder, user.pw_uid, user.pw_gid)
    return {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": [], "cwd": folder}


def _run(command: list[str], as_whom: dict[str, Any]) -> None:
    done = subprocess.run(command, capture_output=True, text=True, check=False, **as_whom)  # noqa: S603
    assert done.returncode == 0, done.stderr
