"""What people of the demo mine stated, and what they may state after it."""

from datetime import datetime
from typing import Any

from fieldapp.work.demo.story import MAIN
from schemas.entry import Entry, Stated, corrected, new_entry
from schemas.logical_clock import LogicalTime
from tests.demo_mine import PRESENT
from tests.made import thing_id
from tests.office import demo_records

STRICT_M = "0.100"
"""No last row of the demo stands so near to its face."""


def stated(kind: str) -> list[Entry]:
    """Give what was stated of a kind."""
    return [it for it in demo_records().entries if it.kind == kind]


def person_id(name: str) -> str:
    """Give the id of somebody of the demo mine."""
    return next(it.id for it in demo_records().people if it.body["name"] == name)


def said(author: str, at: datetime) -> Stated:
    """Give who states something, when, after everything that was stated in the story."""
    return Stated(author, at, "UTC", LogicalTime(int(PRESENT.timestamp() * 1000) + 1000))


def stricter_standard(from_: datetime) -> Entry:
    """Give the next revision of the demo's standard, with a limit that no round keeps."""
    (standard,) = stated("standard")
    body: Any = dict(standard.body)
    classes = [
        {**it, "limits": {**it["limits"], "last_row_to_face": {
            **it["limits"]["last_row_to_face"], "at_most_m": STRICT_M}}}
        for it in body["classes"]
    ]  # fmt: skip
    body = {**body, "revision": body["revision"] + 1, "classes": classes}
    body["effective_from"] = from_.isoformat()
    engineer = person_id("Geotechnical engineer")
    return new_entry("standard", 1, thing_id(7), body, said(engineer, from_))


def two_corrections() -> tuple[Entry, Entry]:
    """Two tablets correct one heading, neither knowing of the other."""
    (main,) = [it for it in stated("heading") if it.body["name"] == MAIN]
    keeper = person_id("Records keeper")
    one = corrected(main, {"level": "4181"}, said(keeper, PRESENT))
    return one, corrected(main, {"level": "4182"}, said(keeper, PRESENT))
