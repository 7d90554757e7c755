"""Installs the project into its environment, saying what it does line by line."""

import os
import re
from dataclasses import dataclass
from pathlib import Path

from fieldapp.first_run.telling import Ended, run_shown, say
from schemas.trouble import DiskTrouble

WHEEL = re.compile(
    r"\s*(Downloading|Using cached) (?:\S*/)?([\w.]+)-(\d[^-\s]*)-\S+\.whl(?: \(([^)]+)\))?$"
)
UNPACKING = "Installing collected packages: "
NO_NETWORK = (
    "NewConnectionError",
    "ConnectTimeoutError",
    "ReadTimeoutError",
    "NameResolutionError",
    "ProxyError",
    "ProtocolError",
    "RemoteDisconnected",
    "IncompleteRead",
    "Read timed out",
    "Connection broken",
    "Temporary failure in name resolution",
    "Network is unreachable",
)
NO_SPACE = ("No space left on device", "Errno 28", "not enough space on the disk")


@dataclass(eq=False)
class NoNetwork(DiskTrouble):
    """The parts can't be fetched."""

    happened = "The parts that Lastrow stands on could not be fetched: the network did not answer."
    kept = "What was fetched is kept, and nothing outside .venv was changed."
    do_next = "Connect this machine to a network, this once, then type the same command again."


@dataclass(eq=False)
class DiskFull(DiskTrouble):
    """The parts don't fit on the disk."""

    happened = "The disk is full: the parts that Lastrow stands on need about 1 GB."
    kept = "Nothing outside .venv was changed."
    do_next = "Free some space, then type the same command again."


@dataclass(eq=False)
class NotInstalled(DiskTrouble):
    """The installer stopped for a reason of its own."""

    below: str

    happened = "The installer stopped, with the words below."
    kept = "Nothing outside .venv was changed."
    do_next = "Type the same command again; if it stops there again, show these words to someone."


def install(python: Path, root: Path, extras: list[str]) -> None:
    """Install the project, editable, with these extras."""
    say("  2. the parts it stands on")
    chosen = f"{root}[{','.join(extras)}]" if extras else str(root)
    command = [str(python), "-m", "pip", "install", "--no-input", "--progress-bar=off"]
    command.append("--no-compile")  # half the time; Python does so with what is really loaded
    quiet = {"PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_USER": "0", "PYTHONUNBUFFERED": "1"}
    shown = Shown(python)
    ended = run_shown(
        [*command, "-e", chosen], {**os.environ, **quiet}, shown.line, shown.meanwhile
    )
    if ended.code != 0:
        raise reason(ended)


class Shown:
    """Turns the installer's lines into ones worth reading, and its silences too."""

    def __init__(self, python: Path) -> None:
        self.python = python
        self.parts = 0

    def line(self, line: str) -> str:
        """Say what this line means; nothing where it means little."""
        wheel = WHEEL.match(line)
        if wheel:
            how, name, version, size = wheel.groups()
            verb = "fetched" if how == "Downloading" else "had"
            return f"{verb} {name} {version}" + (f", {size}" if size else "")
        if UNPACKING in line:
            self.parts = line.partition(UNPACKING)[2].count(",") + 1
            say(f"  3. unpacking {self.parts} parts")
        return ""

    def meanwhile(self) -> str:
        """Say how far it is, where that can be seen."""
        if not self.parts:
            return ""
        environment = self.python.parent.parent
        places = [*environment.glob("lib/*/site-packages"), environment / "Lib/site-packages"]
        unpacked = sum(len(list(place.glob("*.dist-info"))) for place in places)
        return f"{unpacked} unpacked"


def reason(ended: Ended) -> DiskTrouble:
    """Tell from the installer's words why it stopped."""
    text = "\n".join(ended.lines)
    if any(sign in text for sign in NO_SPACE):
        return DiskFull()
    if any(sign in text for sign in NO_NETWORK):
        return NoNetwork()
    return NotInstalled("\n".join(ended.lines[-12:]))
