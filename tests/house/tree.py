"""The house as it stands on the disk: its files, its modules, its Python read as text."""

import ast
import importlib
import pkgutil
import shutil
import subprocess
from functools import cache
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("fieldapp", "sync", "schemas", "assets")
RUN_BY_OTHERS = ("__main__", "migrations")  # Alembic runs its own folder


@cache
def files() -> tuple[Path, ...]:
    """Give every file that is, or is about to be, kept; build products are not."""
    git = shutil.which("git")
    if git is None or not (ROOT / ".git").exists():
        return tuple(path for path in _walked() if path.is_file())
    command = [git, "-C", str(ROOT), "ls-files", "-z", "--cached", "--others"]
    listed = subprocess.run(  # noqa: S603
        [*command, "--exclude-standard"], capture_output=True, text=True, check=True
    )
    paths = (ROOT / name for name in listed.stdout.split("\0") if name)
    return tuple(sorted(path for path in paths if path.is_file()))


def _walked() -> list[Path]:
    """Find the files of an unpacked archive, which has no list of them."""
    hidden = (".venv", "__pycache__", "build", "dist")
    return sorted(
        path
        for path in ROOT.rglob("*")
        if not any(part in hidden or part.endswith("_cache") for part in path.parts)
    )


def name_of(path: Path) -> str:
    """Name a file as a person would look for it."""
    return path.relative_to(ROOT).as_posix()


def sources(*folders: str) -> list[Path]:
    """Give the Python files below these folders."""
    places = tuple(f"{folder}/" for folder in folders or PACKAGES)
    return [p for p in files() if p.suffix == ".py" and name_of(p).startswith(places)]


@cache
def syntax(path: Path) -> ast.Module:
    """Read a Python file as a tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def modules(package: str, *, without: tuple[str, ...] = ("ui",)) -> list[ModuleType]:
    """Import a package and all below it, but for windows and what others run."""
    skipped = {*without, *RUN_BY_OTHERS}
    root = importlib.import_module(package)
    found = [root]
    for module in pkgutil.iter_modules(root.__path__, package + "."):
        if module.name.rpartition(".")[2] in skipped:
            continue
        if module.ispkg:
            found += modules(module.name, without=without)
        else:
            found.append(importlib.import_module(module.name))
    return found
