"""The photo of last time: what a new one of the same place is held against."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from PIL import Image

from fieldapp.work.known import Known, one
from fieldapp.work.photo.file import NoPhoto, photo_seen
from fieldapp.work.photo.photographs import photo_path, photos_of
from fieldapp.work.site import Site
from schemas.bodies.photo import Photo

EDGE_PX: Final = 1_200
ANOTHER_VISIT: Final = timedelta(hours=8)
"""What was taken later belongs to this visit: nobody holds a photo against its neighbour."""


@dataclass(frozen=True)
class PhotoBefore:
    """A photo of the same place from an earlier visit."""

    picture: Image.Image
    """Upright, in three colours."""
    taken_at: datetime


def photo_before(site: Site, *of: str) -> PhotoBefore | None:
    """Open the newest photo of some things from an earlier visit that is on this tablet."""
    until = site.now() - ANOTHER_VISIT
    return _newest(site, (it for it in photos_of(site, *of) if taken_at(it) <= until))


def photo_with(site: Site, ids: Iterable[str]) -> PhotoBefore | None:
    """Open the newest of some photos, by their ids, that is on this tablet."""
    return _newest(site, (known for it in ids for known in one(site, "photo", Photo, it)[-1:]))


def taken_at(photo: Known[Photo]) -> datetime:
    """Give when a photo was taken; when it was kept, where its camera did not say."""
    return photo.body.taken_at or photo.entry.made_at


def there_by(photo: Known[Photo]) -> datetime:
    """Give when a photo was there at the latest: taken, written or kept, whichever came first."""
    told = (photo.body.taken_at, photo.body.written_at, photo.entry.made_at)
    return min(it for it in told if it is not None)


def _newest(site: Site, photos: Iterable[Known[Photo]]) -> PhotoBefore | None:
    for photo in sorted(photos, key=taken_at, reverse=True):
        try:
            seen = photo_seen(photo_path(site, photo.body), EDGE_PX)
        except NoPhoto:
            continue  # it was taken on another tablet and did not arrive
        return PhotoBefore(seen.picture, taken_at(photo))
    return None
