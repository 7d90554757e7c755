"""What tablets say about bad files of the share, and what has become of it."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from pydantic import ValidationError

from schemas.bodies.bad_file import BadFile, PhotoFile
from schemas.bodies.receipt import HeldSegment
from schemas.entry import Entry
from sync.belief import former_ids
from sync.holdings import Holdings, Look
from sync.names import PhotoName, SegmentName

FileName = SegmentName | PhotoName


@dataclass(frozen=True)
class Report:
    """A tablet says that a file stays bad."""

    entry: Entry
    by: str
    """The tablet in whose row it stands."""
    file: FileName
    since: datetime
    read_at: datetime | None
    """When the same tablet said that it has read the file well; None: it still can't."""
    look: Look | None
    """What this machine found there; None: it has not looked, or doesn't hold the file."""


def reports(holdings: Holdings) -> tuple[Report, ...]:
    """Give what is reported here, oldest first; only who reported a file may take that back."""
    looks = holdings.looks()
    said = [(by, entry, body) for by, entry in holdings.said_bad() if (body := _read(entry))]
    read: dict[str, list[tuple[str, Entry]]] = defaultdict(list)
    for by, entry, body in said:
        for parent in entry.parents if body.good_again else ():
            read[parent].append((by, entry))
    found = []
    for by, entry, body in said:
        file = None if body.good_again else _file(body)
        if file is not None:
            ends = (it.made_at for who, it in read[entry.revision] if _is_same(holdings, who, by))
            look = looks.get(entry.revision)
            found.append(Report(entry, by, file, body.since, next(ends, None), look))
    return tuple(found)


def named(file: FileName) -> dict[str, HeldSegment | PhotoFile]:
    """Give the field of a report's body that names a file."""
    if isinstance(file, SegmentName):
        return {"segment": HeldSegment(tablet=file.tablet, seq=file.seq, hash16=file.hash16)}
    name = {"month": file.month, "sha256": file.sha256, "ending": file.ending}
    return {"photo": PhotoFile.model_validate(name)}


def _read(entry: Entry) -> BadFile | None:
    """Read what is said; what only a newer version can read says nothing here."""
    try:
        return BadFile.model_validate(dict(entry.body))
    except ValidationError:
        return None


def _file(body: BadFile) -> FileName | None:
    segment, photo = body.segment, body.photo
    if segment is not None:
        return SegmentName(segment.tablet, segment.seq, segment.hash16)
    return PhotoName(photo.month, photo.sha256, photo.ending) if photo else None


def _is_same(holdings: Holdings, tablet: str, former: str) -> bool:
    return tablet == former or former in former_ids(holdings.identity, tablet)
