"""The demo mine's standard, and ways to write something else into one place of it."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import assets
from schemas.reading import read_model
from schemas.standard import Standard

DEMO = (Path(assets.__file__).parent / "demo" / "standard.json").read_bytes()
D1, O2, W3 = 0, 1, 2
"""Where the classes stand: bolts and sheets, staggered with rolls, shotcrete."""

Change = Callable[[Any], object]


def changed(change: Change) -> Standard:
    document = json.loads(DEMO)
    change(document)
    return read_model(json.dumps(document).encode(), Standard, source="the standard")


def put(index: int, path: str, **fields: object) -> Change:
    """Write fields into one place of a class; a field of None is taken out."""

    def change(document: Any) -> None:
        place = document["classes"][index]
        for step in filter(None, path.split(".")):
            place = place[int(step) if step.isdigit() else step]
        for name, value in fields.items():
            if value is None:
                del place[name]
            else:
                place[name] = value

    return change


def put_in(*steps: str | int, **fields: object) -> Change:
    """Write fields into one place of the standard as a whole."""

    def change(document: Any) -> None:
        place = document
        for step in steps:
            place = place[step]
        place.update(fields)

    return change
