"""Keeping photographs: the picture goes onto the shelf, then an entry says what it shows.

What is kept is the picture without what its camera tells of people and places; the file that
was given stays where it is, untouched.
"""

import hashlib
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.work.known import Known, current
from fieldapp.work.photo.file import NoPhoto, photo_read
from fieldapp.work.photo.sources import own_camera
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.bodies.photo import ENDINGS, Photo
from sync.names import PhotoName

FIRST_CAMERAS: Final = datetime(2000, 1, 1, tzinfo=UTC)
"""A camera whose clock was never set says that it is earlier."""
MAY_RUN_AHEAD: Final = timedelta(days=1)


def keep_photo(site: Site, file: Path, session: Session | None, of: str) -> Known[Photo]:
    """Keep a photo of something, durably, before this returns.

    Done again for the same photo of the same thing it keeps nothing new: whoever was cut off
    half-way simply does it again.

    Parameters
    ----------
    site : Site
        The mine's records.
    file : Path
        As the camera wrote it; it is only read.
    session : Session, optional
        Who says what it shows.
    of : str
        Id of the thing that it shows.

    Raises
    ------
    NoPhoto
        The file is no photo that can be used.
    DiskTrouble
        The disk is full, read-only or gone.
    """
    read = photo_read(file)
    content = read.content
    sha256 = hashlib.sha256(content).hexdigest()
    known = [it for it in photos_of(site, of) if it.body.sha256 == sha256]
    taken_at = _taken_at(site, read.taken)
    name = _name(site, sha256, ENDINGS[read.media_type], taken_at or site.now())
    site.store.photos.keep(name, content)
    if known:
        return known[-1]
    photo = Photo(
        sha256=sha256,
        size_bytes=len(content),
        media_type=read.media_type,
        month=name.month,
        taken_at=taken_at,
        written_at=None if taken_at else _written_at(site, file),
        of=of,
    )
    author = session.person_id if session else None
    return Known(state(site, "photo", photo, author=author), photo)


def keep_taken(site: Site, file: Path, session: Session | None, of: str) -> Known[Photo]:
    """Keep a photo as `keep_photo` does; what the tablet's own camera gave is cleared away then.

    So it is where it can't be used. Where the disk has no room for it, it stays.

    Raises
    ------
    NoPhoto, DiskTrouble
        As for `keep_photo`.
    """
    try:
        kept = keep_photo(site, file, session, of)
    except NoPhoto:
        clear_taken(site, file)
        raise
    clear_taken(site, file)
    return kept


def clear_taken(site: Site, file: Path) -> None:
    """Take a picture away that the tablet's own camera gave; another's file stays untouched."""
    if file.parent == own_camera(site.folder).folder:
        file.unlink(missing_ok=True)


def photos_of(site: Sight, *of: str) -> tuple[Known[Photo], ...]:
    """Give the photos of some things, in the order in which they were kept."""
    return tuple(it for it in current(site, "photo", Photo) if it.body.of in of)


def photo_name(photo: Photo) -> PhotoName:
    """Give the name by which its bytes are found, here and in a share."""
    return PhotoName(photo.month, photo.sha256, ENDINGS[photo.media_type])


def photo_path(site: Site, photo: Photo) -> Path:
    """Give where a photo's file lies, if it has arrived on this tablet."""
    return site.store.photos.path(photo_name(photo))


def _taken_at(site: Site, at: datetime | None) -> datetime | None:
    """Give when it was taken, where the camera's clock can be believed at all."""
    if at is None:
        return None
    if at.tzinfo is None:
        at = at.replace(tzinfo=ZoneInfo(site.settings.zone))
    return at if FIRST_CAMERAS <= at <= site.now() + MAY_RUN_AHEAD else None


def _written_at(site: Site, file: Path) -> datetime | None:
    """Give when a file was written, where that can be believed at all."""
    at = datetime.fromtimestamp(file.stat().st_mtime, UTC).replace(microsecond=0)
    return at if FIRST_CAMERAS <= at <= site.now() else None


def _name(site: Site, sha256: str, ending: str, at: datetime) -> PhotoName:
    """Name a photo; one that is here already keeps the month under which others find it."""
    held = (name for name in site.store.photos.held() if name.sha256 == sha256)
    day = at.astimezone(UTC)
    return next(held, PhotoName(f"{day.year:04}{day.month:02}", sha256, ending))
