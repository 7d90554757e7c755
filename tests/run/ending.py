"""The last page: how long each part took, what was not tried and why, and one line of totals."""

from dataclasses import dataclass
from pathlib import Path

from tests.run.outcome import Outcome

NEVER_HERE = (
    ("Windows, tablets and desktops", "no test machine of ours runs it"),
    ("the kernel's SMB and NFS clients", "they need a second machine"),
    ("other servers for files and objects", "those of the tests are on this machine"),
    ("real cameras, flash and dust", "pictures in the tests are made"),
    ("cloud clients that carry the shared folder", "they are other people's programs"),
    ("gloves, wet glass, a lamp on the screen", "touches in the tests are events"),
    ("Android", "not built yet"),
)
NOTED = "not tried here"
"""In the reason of what was skipped: it has been noted already, with its name."""


@dataclass(frozen=True)
class Totals:
    """All parts together."""

    passed: int
    failed: int
    skipped: int

    def line(self) -> str:
        """Sum up in the one line that other programs read."""
        skipped = f", {self.skipped} skipped" if self.skipped else ""
        return f"{self.passed} passed, {self.failed} failed{skipped}"

    def nothing(self) -> bool:
        """Tell whether no test was run at all."""
        return not (self.passed or self.failed or self.skipped)


def totals(outcomes: list[Outcome], missing: int, *, strict: bool) -> Totals:
    """Add up the parts. Where nothing may be missing, what was not tried has failed."""
    passed = sum(outcome.passed for outcome in outcomes)
    failed = sum(outcome.failed for outcome in outcomes)
    skipped = sum(len(outcome.skipped) for outcome in outcomes)
    if strict:
        return Totals(passed, failed + missing + skipped, 0)
    return Totals(passed, failed, skipped)


def not_tried(notes: Path) -> list[str]:
    """Read what the tests noted that they could not try."""
    if not notes.exists():
        return []
    return list(dict.fromkeys(notes.read_text(encoding="utf-8").splitlines()))


def last_page(outcomes: list[Outcome], noted: list[str], *, strict: bool) -> list[str]:
    """Give the lines of the last page but the closing one."""
    fails = " (counts as failed here)" if strict else ""
    skipped = dict.fromkeys(
        f"{outcome.part.name}: {why}"
        for outcome in outcomes
        for why in outcome.skipped
        if NOTED not in why
    )
    return [
        "",
        "How long it took:",
        *(_took(outcome) for outcome in outcomes),
        "",
        "Not tried here, and why:",
        *(f"  {what}: {why}" for what, why in NEVER_HERE),
        *(f"  {note}{fails}" for note in (*noted, *skipped)),
        "",
    ]


def _took(outcome: Outcome) -> str:
    skipped = len(outcome.skipped)
    ended = f"{outcome.passed} passed, {outcome.failed} failed, {skipped} skipped"
    return f"  {outcome.lasted_s:6.1f} s  {outcome.part.name}: {ended}"
