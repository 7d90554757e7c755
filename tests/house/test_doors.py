"""The terminal's door opens quickly: what is heavy is loaded by the work that needs it."""

import subprocess
import sys

import pytest

HEAVY = (
    "alembic",
    "cryptography",
    "fpdf",
    "kivy",
    "numpy",
    "PIL",
    "qrcode",
    "scipy",
    "shapely",
    "sqlalchemy",
)


@pytest.fixture(scope="module")
def loaded() -> set[str]:
    """The modules that opening the door has loaded, in a process of its own."""
    words = "import sys; import fieldapp.cli; print(*sys.modules)"
    run = subprocess.run(  # noqa: S603
        [sys.executable, "-c", words], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, f"fieldapp.cli can't be imported:\n{run.stderr}"
    return {name.partition(".")[0] for name in run.stdout.split()}


@pytest.mark.parametrize("library", HEAVY)
def test_opening_the_door_loads_nothing_heavy(library: str, loaded: set[str]) -> None:
    assert library not in loaded, (
        f"import {library} inside the function that needs it; "
        "`python -X importtime -c 'import fieldapp.cli'` shows who asked for it"
    )
