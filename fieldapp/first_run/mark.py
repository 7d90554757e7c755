"""The mark inside ``.venv`` that says it is complete, and for what.

Read at every start, so it costs one small file and one hash. The mark is written last and
whole: a first run that was killed leaves none, and the environment is made again.
"""

import hashlib
import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
RECIPE = ROOT / "pyproject.toml"
COMPLETE = "lastrow-complete"
BEGUN = "lastrow-begun"


def is_checkout() -> bool:
    """Tell a clone, which may make its own environment, from an installed program."""
    return RECIPE.is_file()


def is_inside(venv: Path = VENV) -> bool:
    """Tell whether the running Python is the one of `venv`."""
    return Path(sys.prefix).resolve() == venv.resolve()


def python_of(venv: Path = VENV) -> Path:
    """Give the path of the environment's own Python."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def wanted(recipe: Path = RECIPE) -> dict[str, str]:
    """State what a complete environment was made of, as it is asked for now."""
    return {
        "python": f"{sys.version_info[0]}.{sys.version_info[1]}",
        "recipe": hashlib.sha256(recipe.read_bytes()).hexdigest(),
        "place": str(recipe.parent),  # an environment that was moved has wrong paths inside
    }


def read(venv: Path = VENV) -> dict[str, str]:
    """Read the mark; empty where there is none."""
    try:
        text = (venv / COMPLETE).read_text(encoding="utf-8", errors="surrogateescape")
    except FileNotFoundError:
        return {}
    pairs = (line.partition("=") for line in text.splitlines())
    return {key: value for key, _, value in pairs}


def extras(found: dict[str, str]) -> set[str]:
    """Give the optional parts that a mark says were installed too."""
    return set(found.get("extras", "").split())


def fits(extra: str, venv: Path = VENV, recipe: Path = RECIPE) -> bool:
    """Tell whether the environment is complete for what is asked of it now."""
    found = read(venv)
    asked = wanted(recipe)
    same = {key: found.get(key) for key in asked} == asked
    return same and {extra} - {""} <= extras(found) and python_of(venv).exists()


def begin(venv: Path) -> None:
    """Note that work on the environment has begun; from here on it is not complete."""
    venv.mkdir(exist_ok=True)
    (venv / BEGUN).touch()
    (venv / COMPLETE).unlink(missing_ok=True)


def complete(chosen: set[str], venv: Path = VENV, recipe: Path = RECIPE) -> None:
    """Write the mark, whole or not at all."""
    lines = [f"{key}={value}" for key, value in wanted(recipe).items()]
    lines.append("extras=" + " ".join(sorted(chosen)))
    draft = venv / (COMPLETE + ".new")
    with draft.open("w", encoding="utf-8", errors="surrogateescape") as file:
        file.write("\n".join(lines) + "\n")
        file.flush()
        os.fsync(file.fileno())
    draft.replace(venv / COMPLETE)
    (venv / BEGUN).unlink(missing_ok=True)
