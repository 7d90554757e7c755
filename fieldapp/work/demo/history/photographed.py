"""The few photographs of the past: one picture stands for every place that looked like it."""

from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from hashlib import sha256
from importlib import resources

from fieldapp.work.demo.history.teller import Hand, Teller
from fieldapp.work.photo.file import photo_read
from schemas.bodies.photo import ENDINGS, MediaType, Photo
from sync.names import PhotoName


@dataclass(frozen=True)
class _Picture:
    """A picture as it is kept."""

    content: bytes
    media_type: MediaType


def photographed(teller: Teller, picture: str, hand: Hand, at: datetime, *, of: str) -> str:
    """State that a photo of something was taken, and give its id."""
    read = _picture(picture)
    digest = sha256(read.content).hexdigest()
    day = at.astimezone(UTC)
    month = teller.ids.setdefault(f"month of {picture}", f"{day.year:04}{day.month:02}")
    photo = Photo(
        sha256=digest,
        size_bytes=len(read.content),
        media_type=read.media_type,
        month=month,
        of=of,
    )
    name = PhotoName(month, digest, ENDINGS[read.media_type])
    if not teller.site.store.photos.path(name).exists():
        teller.site.store.photos.keep(name, read.content)
    return teller.pen.write("photo", photo, hand.id, at).id


@cache
def _picture(name: str) -> _Picture:
    file = resources.files("assets").joinpath(f"demo/photos/{name}.jpg")
    with resources.as_file(file) as path:
        read = photo_read(path)
    return _Picture(read.content, read.media_type)
