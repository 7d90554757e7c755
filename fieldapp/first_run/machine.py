"""What the operating system must bring: OpenGL for a window, and Python's own venv.

Package names are from memory of each distribution; those of Debian were installed and seen.
"""

import ctypes
import importlib.util
import os
import shutil
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from fieldapp.first_run.telling import run_shown, say
from schemas.trouble import DiskTrouble

TOOLS = ("apt-get", "dnf", "pacman", "zypper")
INSTALL = {
    "apt-get": "apt-get install -y {}",
    "dnf": "dnf install -y {}",
    "pacman": "pacman -S --needed {}",
    "zypper": "zypper install -y {}",
}
FOR_ROOT = ("/usr/local/sbin", "/usr/sbin", "/sbin")
DRIVERS = (
    "usr/lib*/dri/*_dri.so",
    "usr/lib/*/dri/*_dri.so",
    "usr/lib*/libgallium*",
    "usr/lib/*/libgallium*",
    "run/opengl-driver/lib/dri/*",
)


@dataclass(frozen=True)
class Need:
    """A part of the system, how to see that it is there, and the package that brings it.

    `packages` are named in the order of `TOOLS`.
    """

    name: str
    packages: tuple[str, ...]
    is_there: Callable[[], bool]


@dataclass(eq=False)
class SystemPartMissing(DiskTrouble):
    """The system lacks something that only its owner may install."""

    parts: str
    below: str

    happened = "This machine lacks {parts}."
    kept = "Nothing was changed."
    do_next = "Type the line below, then the same command again."


@dataclass(eq=False)
class SystemPartUnknown(DiskTrouble):
    """The system lacks something, and its package tool is none that we know."""

    parts: str

    happened = "This machine lacks {parts}."
    kept = "Nothing was changed."
    do_next = "Install it with the system's package tool, then type the same command again."


def has_library(name: str) -> bool:
    """Tell whether the system's loader finds a library."""
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def has_driver() -> bool:
    """Tell whether OpenGL has something to draw with, if only Mesa's software."""
    return has_library("libGLX_nvidia.so.0") or any(
        True for pattern in DRIVERS for _ in Path("/").glob(pattern)
    )


def has_program(name: str) -> bool:
    """Tell whether a program is there."""
    return program_path(name) is not None


def program_path(name: str) -> str | None:
    """Find a program, also where only root's path leads."""
    path = os.environ.get("PATH", os.defpath)
    return shutil.which(name, path=os.pathsep.join((path, *FOR_ROOT)))


def has_module(name: str) -> bool:
    """Tell whether this Python has a module."""
    importlib.invalidate_caches()
    return importlib.util.find_spec(name) is not None


def library(name: str, *packages: str) -> Need:
    """Need a shared library."""
    return Need(name, packages, partial(has_library, name))


def program(name: str, *packages: str) -> Need:
    """Need a program."""
    return Need(name, packages, partial(has_program, name))


WINDOW = (
    library("libGL.so.1", "libgl1", "mesa-libGL", "libglvnd", "Mesa-libGL1"),
    library("libEGL.so.1", "libegl1", "mesa-libEGL", "libglvnd", "Mesa-libEGL1"),
    library("libXi.so.6", "libxi6", "libXi", "libxi", "libXi6"),
    library("libmtdev.so.1", "libmtdev1", "mtdev", "mtdev", "libmtdev1"),
    Need("Mesa's drawing driver", ("libgl1-mesa-dri", "mesa-dri-drivers", "mesa", "Mesa-dri"),
         has_driver),
)  # fmt: skip


XVFB = (
    program(
        "Xvfb", "xvfb", "xorg-x11-server-Xvfb", "xorg-server-xvfb", "xorg-x11-server-Xvfb"
    ),
)  # fmt: skip


def venv_needs() -> tuple[Need, ...]:
    """Name what Python itself needs to make an environment."""
    version = f"python{sys.version_info[0]}.{sys.version_info[1]}"
    packages = (f"{version}-venv", "python3", "python", "python3")
    return (Need("Python's venv (ensurepip)", packages, partial(has_module, "ensurepip")),)


def package_tool() -> str:
    """Give the system's package tool; empty where it is none that we know."""
    return next(filter(has_program, TOOLS), "")


def is_root() -> bool:
    """Tell whether this process may install what the system lacks."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def line_to_type(tool: str, packages: Iterable[str], *, root: bool, sudo: bool) -> str:
    """Give the exact line that installs these packages."""
    line = INSTALL[tool].format(" ".join(packages))
    if root:
        return line
    return f"sudo {line}" if sudo else f'su -c "{line}"'


def provide(needs: tuple[Need, ...]) -> None:
    """Install what the system lacks where that is allowed; otherwise say what to type."""
    missing = _missing(needs)
    if missing and is_root() and package_tool() == "apt-get":
        _install(packages_of("apt-get", missing))
        missing = _missing(missing)
    if missing:
        raise trouble(missing, package_tool())


def _missing(needs: tuple[Need, ...]) -> tuple[Need, ...]:
    return tuple(need for need in needs if not need.is_there())


def packages_of(tool: str, needs: tuple[Need, ...]) -> list[str]:
    """Give the packages of this tool that bring what is needed, each once."""
    place = TOOLS.index(tool)
    return list(dict.fromkeys(need.packages[place] for need in needs))


def trouble(missing: tuple[Need, ...], tool: str) -> DiskTrouble:
    """State what is missing, with the line to type where the package tool is known."""
    parts = ", ".join(need.name for need in missing)
    if not tool:
        return SystemPartUnknown(parts)
    packages = packages_of(tool, missing)
    line = line_to_type(tool, packages, root=is_root(), sudo=has_program("sudo"))
    return SystemPartMissing(parts, line)


def _install(packages: list[str]) -> None:
    say("The system's own parts are installed: " + ", ".join(packages))
    environ = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    apt = ["apt-get", "-o", "DPkg::Lock::Timeout=300"]
    run_shown([*apt, "update"], environ, lambda _: "", lambda: "looking up")
    run_shown(
        [*apt, "install", "-y", "--no-install-recommends", *packages], environ, _shown,
        lambda: "installing",
    )  # fmt: skip


def _shown(line: str) -> str:
    """Keep the lines that tell of a package that is being set up, and of what went wrong."""
    words = ("Setting up ", "E: ")
    return line if line.startswith(words) else ""
