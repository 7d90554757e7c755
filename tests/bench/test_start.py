"""How long the terminal's door takes to open."""

import subprocess
import sys

from tests.bench.ratio import Ratio, medians_s

BUDGET_S = 0.3


def _python(words: str) -> None:
    subprocess.run([sys.executable, "-c", words], check=True)  # noqa: S603


def ratios() -> list[Ratio]:
    """Import the door in fresh processes, beside a Python that imports nothing."""
    door, bare = medians_s(lambda: _python("import fieldapp.cli"), lambda: _python("pass"))
    return [
        Ratio("import fieldapp.cli", "a bare Python's start", door - bare, BUDGET_S, unit="s"),
    ]
