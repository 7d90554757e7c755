"""A real Samba server of our own on the loopback, with one share and one user."""

import getpass
import os
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from fieldapp.first_run.machine import program_path
from sync.smb_folder import SmbFolder
from sync.smb_place import SmbPlace
from tests.not_tried import not_tried

WHAT = "a share of a real Samba server"
SERVER = "127.0.0.1"
SHARE = "wrenfall"
PASSWORD = "not for any log"  # noqa: S105 - of the server that the test starts
STARTS_WITHIN_S = 30.0
SHORT = "/tmp"  # noqa: S108 - a folder of its own is made in it
CONFIG = """
[global]
server role = standalone server
private dir = {own}
lock directory = {own}/lock
state directory = {own}/state
cache directory = {own}/cache
pid directory = {own}/pid
ncalrpc dir = {own}/ncalrpc
passdb backend = smbpasswd:{own}/smbpasswd
interfaces = lo
bind interfaces only = yes
disable netbios = yes
load printers = no
printing = bsd
printcap name = /dev/null
log level = 0
[{share}]
path = {folder}
read only = {read_only}
"""


@dataclass
class Samba:
    """The server as a process of the test's own, and the directory that it shares.

    Parameters
    ----------
    own : Path
        What the server keeps for itself.
    folder : Path
        What it shares.
    """

    own: Path
    folder: Path
    port: int = field(default_factory=lambda: _free_port())
    _process: "subprocess.Popen[bytes] | None" = None

    def where(self, *folders: str) -> SmbPlace:
        """Say where a folder of the share is, for its user."""
        return SmbPlace(SERVER, SHARE, folders, getpass.getuser(), self.port)

    def connected(self, *folders: str, answers_within_s: int = 20) -> SmbFolder:
        """Give a folder of the share, over a connection of its own."""
        return SmbFolder(self.where(*folders), PASSWORD, answers_within_s=answers_within_s)

    def start(self, *, read_only: bool = False) -> None:
        """Start it and wait until it answers."""
        self._write_config(read_only=read_only)
        config = f"--configfile={self.own / 'smb.conf'}"
        self._process = subprocess.Popen(  # noqa: S603
            [_program("smbd"), "--foreground", "--no-process-group", config, f"-p{self.port}"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        until = time.monotonic() + STARTS_WITHIN_S
        while not _answers(self.port):
            assert self._process.poll() is None, "smbd ended as soon as it was started"
            assert time.monotonic() < until, "smbd does not answer"
            time.sleep(0.05)

    def _write_config(self, *, read_only: bool) -> None:
        for name in ("lock", "state", "cache", "pid", "ncalrpc"):
            (self.own / name).mkdir(parents=True, exist_ok=True)
        config = self.own / "smb.conf"
        yes = "yes" if read_only else "no"
        config.write_text(
            CONFIG.format(own=self.own, folder=self.folder, share=SHARE, read_only=yes)
        )
        subprocess.run(  # noqa: S603
            [_program("smbpasswd"), "-c", config, "-L", "-a", "-s", getpass.getuser()],
            input=f"{PASSWORD}\n{PASSWORD}\n".encode(),
            capture_output=True,
            check=True,
        )

    def signal(self, number: int) -> None:
        """Send a signal to the server and to all processes that it started."""
        assert self._process
        os.killpg(self._process.pid, number)

    def kill(self) -> None:
        """End it and all that it started as a power cut does; nothing is open any more."""
        if self._process:
            with suppress(ProcessLookupError):
                self.signal(signal.SIGKILL)
            self._process.wait()
            while _has_any(self._process.pid):
                time.sleep(0.01)
            self._process = None


@contextmanager
def samba(own: Path, folder: Path) -> Iterator[Samba]:
    """Start a server that shares a directory; what was not tried is said where that can't be."""
    if os.name != "posix" or os.geteuid() != 0:
        not_tried(WHAT, "only root may start it")
    own.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="smb-", dir=SHORT) as short:
        its = Path(short) / "own"  # a socket's path has room for 107 letters
        its.symlink_to(own)
        server = Samba(its, folder)
        server.start()
        try:
            yield server
        finally:
            server.kill()


def _program(name: str) -> str:
    found = program_path(name)
    return found or not_tried(WHAT, f"{name} is not installed")


def _has_any(group: int) -> bool:
    """Tell whether a process of a group is alive; nobody may have asked for how one ended."""
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            state, _, its_group = stat.read_text().rpartition(")")[2].split()[:3]
            if its_group == str(group) and state not in "XZ":
                return True
    return False


def _free_port() -> int:
    with closing(socket.create_server((SERVER, 0))) as listening:
        port: int = listening.getsockname()[1]
    return port


def _answers(port: int) -> bool:
    try:
        socket.create_connection((SERVER, port), timeout=1).close()
    except OSError:
        return False
    return True
