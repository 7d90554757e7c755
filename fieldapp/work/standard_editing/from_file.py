"""Taking a whole new revision from a file that somebody wrote or filled in elsewhere.

The file may lack figures or be refused for many: it is edited on like any other revision. Only
what has no shape of a standard is refused as a whole.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.work.site import Site
from fieldapp.work.standard_editing.editing import StandardTouch, StandardWork, keep_touch
from fieldapp.work.standard_editing.fields import NOT_EDITED, shaped
from schemas.canonical import LARGEST_BYTES, parse_json
from schemas.reading import Refused
from schemas.trouble import BadInput


@dataclass(eq=False)
class NotReadFromFile(BadInput):
    """A file with a standard can't be read."""

    name: str
    reason: str

    happened = "The file {name} can't be read: {reason}."
    kept = "The new revision is as it was."
    do_next = "Look whether the stick or share is still there, then choose it again."


@dataclass(eq=False)
class OtherStandard(BadInput):
    """A file holds another standard than the one whose revision is made."""

    name: str
    other: str
    own: str

    happened = "The file {name} holds the standard {other}, and this is a revision of {own}."
    kept = "The new revision is as it was."
    do_next = "Choose a file of {own}. Another standard is adopted by: lastrow standard adopt."


def take_from_file(site: Site, work: StandardWork, path: Path, by: str | None) -> StandardWork:
    """Put what a file says in the place of the whole revision: one touch, taken back as one.

    Its revision, its day and who signed it are this revision's own.

    Raises
    ------
    NotReadFromFile, OtherStandard
        The file is none that could be taken.
    Refused, Unreadable
        It is no JSON, or has not the shape of a standard; the place and the reason are named.
    """
    found = parse_json(_content(path), source=path.name)
    if not isinstance(found, Mapping):
        raise Refused(path.name, "$", "a standard stands in braces")
    own = str(work.base["code"])
    other = str(found.get("code"))
    if other != own:
        raise OtherStandard(path.name, other, own)
    document = shaped(found, path.name)
    _require_classes(document, path.name)
    said = {name: it for name, it in document.items() if name not in NOT_EDITED}
    touch = StandardTouch(at=site.now(), by=by, act="all", value=said)
    return keep_touch(site, work, touch)


def _require_classes(document: Mapping[str, Any], source: str) -> None:
    """Refuse one whose classes can't be told apart: nobody could turn to what is wrong in them."""
    if not document["classes"]:
        raise Refused(source, "$.classes", "a standard has at least one support class")
    for number, known in enumerate(document["classes"]):
        for name in ("code", "title"):
            if not isinstance(known.get(name), str):
                raise Refused(source, f"$.classes[{number}].{name}", "a class is known by it")


def _content(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise NotReadFromFile(path.name, (error.strerror or "it failed").lower()) from error
