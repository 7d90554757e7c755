"""A heading's surveyed line: what places it on the mine plan."""

import csv
import io
from dataclasses import dataclass

from pydantic import ValidationError

from fieldapp.assess.surveyed_line import LinePoint, SurveyedLine
from fieldapp.work.authority import HEADING_KEEPERS
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, known_by, one, parents_over
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import state
from schemas.bodies.heading import Heading, SurveyedPoint
from schemas.trouble import BadInput

COLUMNS = ("chainage_m", "east_m", "north_m", "height_m")


@dataclass(eq=False)
class LineRefused(BadInput):
    """A list of surveyed points can't be taken."""

    reason: str

    happened = "The surveyed line is refused: {reason}."
    kept = "The heading is as it was."
    do_next = "Put that right in the list, then give it again."


def survey_heading(site: Site, name: str, raw: bytes, session: Session) -> Known[Heading]:
    """Give a heading the line of its chainage from a list (CSV), in place of an older one.

    Raises
    ------
    NoSuchHeading
        Nothing of that name is known.
    NotYours
        A records keeper or geotechnical engineer enters it.
    LineRefused
        Names the line of the list and the reason.
    """
    require(session, *HEADING_KEEPERS, act="enter a surveyed line")
    place = heading(site, name)
    body = place.read.model_copy(update={"surveyed": _points(raw)})
    heads = one(site, "heading", Heading, place.id)
    entry = state(
        site,
        "heading",
        body,
        author=session.person_id,
        thing_id=place.id,
        parents=parents_over(site, heads),
    )
    return known_by(site, entry, body)


def _points(raw: bytes) -> tuple[SurveyedPoint, ...]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise LineRefused("the file is not UTF-8 text") from error
    reader = csv.DictReader(io.StringIO(text))
    missing = [it for it in COLUMNS if it not in (reader.fieldnames or ())]
    if missing:
        raise LineRefused(f"the column {missing[0]} is missing")
    points = tuple(_point(row, reader.line_num) for row in reader)
    try:
        SurveyedLine([_line_point(it) for it in points])
    except ValueError as error:
        raise LineRefused(str(error)) from error
    return points


def _point(row: dict[str, str], line: int) -> SurveyedPoint:
    try:
        return SurveyedPoint.model_validate({it: (row[it] or "").strip() for it in COLUMNS})
    except ValidationError as error:
        column = ".".join(map(str, error.errors()[0]["loc"]))
        raise LineRefused(f"line {line}, {column} is no length in metres") from error


def _line_point(it: SurveyedPoint) -> LinePoint:
    return LinePoint(*map(float, (it.chainage_m, it.east_m, it.north_m, it.height_m)))
