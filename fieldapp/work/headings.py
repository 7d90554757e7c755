"""The headings of the mine: entering them one by one, or from a list."""

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from pydantic import ValidationError

from fieldapp.work.authority import counting
from fieldapp.work.known import Known, current, one
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import state, written
from schemas.bodies.heading import Heading
from schemas.entry import Entry
from schemas.trouble import BadInput

COLUMNS = ("name", "level", "support_class", "face_m", "last_row_m")


@dataclass(eq=False)
class NoSuchHeading(BadInput):
    """Nothing of that name is known."""

    name: str

    happened = "No heading is called {name}."
    kept = "Nothing was changed."
    do_next = "Look at the Shift board for its name, or add it: lastrow heading add."


@dataclass(eq=False)
class HeadingRefused(BadInput):
    """A heading can't be entered as it is."""

    name: str
    reason: str

    happened = "The heading {name} can't be entered: {reason}."
    kept = "The headings entered before are as they were."
    do_next = "Put it right, then enter it again."


@dataclass(eq=False)
class ListRefused(BadInput):
    """A list of headings holds a line that can't be taken."""

    line: int
    reason: str

    happened = "The list of headings is refused: line {line}, {reason}."
    kept = "No heading of the list was entered."
    do_next = "Put line {line} right, then import the list again."


def headings(site: Sight) -> tuple[Known[Heading], ...]:
    """Give every heading, in the order in which they were entered."""

    def in_order() -> tuple[Known[Heading], ...]:
        return tuple(sorted(current(site, "heading", Heading), key=lambda known: known.id))

    return counting(site).remembered("headings", in_order)


def heading(site: Sight, name_or_id: str) -> Known[Heading]:
    """Find a heading by its id or its name.

    Raises
    ------
    NoSuchHeading
        Nothing of that name is known.
    """
    for known in (*one(site, "heading", Heading, name_or_id), *headings(site)):
        if known.id == name_or_id or known.body.name.casefold() == name_or_id.casefold():
            return known
    raise NoSuchHeading(name_or_id)


def strictest_of(site: Sight, heading_id: str) -> Heading:
    """Give a heading as the strictest of its current revisions has each of its facts."""
    return _strictest([it.body for it in one(site, "heading", Heading, heading_id)])


def strictest_as_read(site: Sight, heading_id: str) -> Heading:
    """Give the same by the chainages of when the heading was entered."""
    return _strictest([it.read for it in one(site, "heading", Heading, heading_id)])


def _strictest(said: Sequence[Heading]) -> Heading:
    return said[0].model_copy(
        update={
            "last_row_m": min(it.last_row_m for it in said),
            "face_m": max(it.face_m for it in said),
            "supported_before": any(it.supported_before for it in said),
            "other_way_out": all(it.other_way_out for it in said),
        }
    )


def add_heading(site: Site, body: Heading, session: Session) -> Known[Heading]:
    """Enter a heading.

    Raises
    ------
    HeadingRefused
        The name is taken, the standard has no such class, or its face is behind its last row.
    """
    require(session, "records keeper", "geotechnical engineer", act="enter a heading")
    reason = _refusal(site, body, [known.body.name for known in headings(site)])
    if reason:
        raise HeadingRefused(body.name, reason)
    entry = state(site, "heading", body, author=session.person_id)
    return Known(entry, body)


def import_headings(site: Site, raw: bytes, session: Session) -> tuple[Known[Heading], ...]:
    """Enter a list of headings (CSV with a line of column names), all of them or none.

    Raises
    ------
    ListRefused
        Names the line and the reason.
    """
    require(session, "records keeper", "geotechnical engineer", act="enter headings")
    bodies = list(_read_list(site, raw))
    entries: list[Entry] = []
    for body in bodies:
        before = entries[-1] if entries else None
        entries.append(written(site, "heading", body, author=session.person_id, after=before))
    site.store.ledger.add(entries)
    return tuple(Known(entry, body) for entry, body in zip(entries, bodies, strict=True))


def _read_list(site: Site, raw: bytes) -> Iterator[Heading]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise ListRefused(1, "the file is not UTF-8 text") from error
    reader = csv.DictReader(io.StringIO(text))
    missing = [column for column in COLUMNS if column not in (reader.fieldnames or ())]
    if missing:
        raise ListRefused(1, f"the column {missing[0]} is missing")
    names = [known.body.name for known in headings(site)]
    for row in reader:
        body = _read_row(site, row, reader.line_num)
        reason = _refusal(site, body, names)
        if reason:
            raise ListRefused(reader.line_num, reason)
        names.append(body.name)
        yield body


def _read_row(site: Site, row: dict[str, str], line: int) -> Heading:
    fields: dict[str, str | bool] = {c: (row[c] or "").strip() for c in COLUMNS}
    fields |= {"supported_before": True, "demo": site.mine.demo}
    try:
        return Heading.model_validate(fields)
    except ValidationError as error:
        column = ".".join(str(step) for step in error.errors()[0]["loc"])
        raise ListRefused(line, f"{column} can't be {fields.get(column, '')!r}") from error


def _refusal(site: Site, body: Heading, names: list[str]) -> str | None:
    if body.name.casefold() in (name.casefold() for name in names):
        return f"{body.name} is entered already"
    if body.demo != site.mine.demo:
        return "demo headings stand in the demo mine only"
    if body.face_m < body.last_row_m:
        return f"its face at {body.face_m} m is behind its last row at {body.last_row_m} m"
    standard = in_force(site, site.now()).body
    if standard.support_class(body.support_class) is None:
        return f"{standard.name} has no support class {body.support_class}"
    return None
