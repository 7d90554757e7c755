"""``python3 -m tests reference``: the tests of published values; ``--report``: their table."""

import sys
from collections.abc import Sequence

from tests.reference.value import Figure, Value
from tests.reference.values import VALUES
from tests.run import suite

HEAD = ("check", "source", "basis", "published", "ours", "difference")


def run(words: Sequence[str]) -> int:
    """Run the reference tests, or print each published figure beside what the app gives.

    Returns
    -------
    int
        1 where a figure is not what its source says. [-]
    """
    if "--report" not in words:
        return suite.run(["tests/reference", *words])
    rows = [(it, it.ours) for it in VALUES]
    off = [it for it, ours in rows if not it.agrees(ours)]
    table = _table([HEAD, *(_row(it, ours) for it, ours in rows)])
    said = f"{len(rows)} checks, {len(off)} not as their source says"
    sys.stdout.write("\n".join([*table, "", said, ""]))
    return 1 if off else 0


def _row(value: Value, ours: Figure) -> tuple[str, ...]:
    difference = value.difference(ours)
    told = f"{difference:+.4g}" if difference is not None else "same" * value.agrees(ours)
    return (
        value.check,
        value.source,
        value.basis,
        _figure(value.published, value.unit),
        _figure(ours, value.unit),
        told + ("" if value.agrees(ours) else " DIFFERS"),
    )


def _figure(figure: Figure, unit: str) -> str:
    said = figure if isinstance(figure, str) else f"{float(figure):.6g}"
    return f"{said} {unit}".rstrip()


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]))]
    return [
        " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
