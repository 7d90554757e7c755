"""The photos of a repair from before and after the work, one beside the other."""

from dataclasses import dataclass

import numpy as np
from PIL import Image

from fieldapp.assess.photo.aligned import aligned, laid_over
from fieldapp.assess.photo.frame import Frame
from fieldapp.work.damage_record import observations_of
from fieldapp.work.known import Known
from fieldapp.work.photo.file import PhotoSeen, photo_seen
from fieldapp.work.photo.measured import measured_on
from fieldapp.work.photo.measuring import NotMeasured, frame_of
from fieldapp.work.photo.photographs import photo_path, photos_of
from fieldapp.work.rehab.verified import proof_of
from fieldapp.work.site import Sight, Site
from schemas.bodies.photo import Photo
from schemas.bodies.rehab import Rehab

Photos = tuple[Known[Photo], ...]


@dataclass(frozen=True)
class Sides:
    """Photos of a repair; of those on this tablet those with a frame first, then the newest."""

    before: Photos = ()
    after: Photos = ()

    @property
    def are_both(self) -> bool:
        """Whether there is a pair to look at."""
        return bool(self.before and self.after)


@dataclass(frozen=True)
class Pair:
    """Two pictures to be looked at side by side, upright, in three colours."""

    before: Image.Image
    after: Image.Image
    is_aligned: bool
    """Then `after` is as large as `before`, and of its scale, tilt and direction."""


def sides_of(site: Site, rehab_id: str, rehab: Rehab) -> Sides:
    """Give the photos from before a repair and from after it that are on this tablet."""
    told = sides_told(site, rehab_id, rehab)
    return Sides(_best_first(site, told.before), _best_first(site, told.after))


def sides_told(site: Sight, rehab_id: str, rehab: Rehab) -> Sides:
    """Give the photos from before a repair and from after it; none before it was begun.

    Before are those that it names, and those of its damage that others kept before the work
    began and that arrived later. After are its own that were kept since, if they were taken then.
    """
    begun = rehab.started_at
    if begun is None:
        return Sides()
    own = photos_of(site, rehab_id)
    of_damage = photos_of(site, *observations_of(site, rehab))
    named = set(rehab.before)
    older = {
        it.id for it in proof_of(site, rehab_id, rehab).older if not rehab.older_photo_because
    }
    before = [it for it in own if it.id in named | older]
    before += [it for it in of_damage if it.id in named or it.entry.made_at < begun]
    after = [it for it in own if it.id not in named | older]
    return Sides(tuple(before), tuple(after))


def pair_of(site: Site, before: Known[Photo], after: Known[Photo], edge_px: int) -> Pair:
    """Open two photos; where both have a frame, lay the after-photo over the before-photo.

    The photos that are kept are only read.

    Raises
    ------
    NoPhoto
        One of them can't be read.
    """
    was, now = (photo_seen(photo_path(site, it.body), edge_px) for it in (before, after))
    frames = _framed(site, before, was), _framed(site, after, now)
    if frames[0] is None or frames[1] is None:
        return Pair(was.picture, now.picture, is_aligned=False)
    over = aligned(frames[0], frames[1])
    shown = laid_over(np.asarray(now.picture), over, was.picture.size)
    return Pair(was.picture, Image.fromarray(shown), is_aligned=True)


def _best_first(site: Site, photos: Photos) -> Photos:
    here = [it for it in reversed(photos) if photo_path(site, it.body).exists()]
    return tuple(sorted(here, key=lambda it: measured_on(site, it.id) is None))


def _framed(site: Site, photo: Known[Photo], seen: PhotoSeen) -> Frame | None:
    """Give the frame that was tapped on a photo, in the pixels of its smaller picture."""
    known = measured_on(site, photo.id)
    if known is None:
        return None
    try:
        frame = frame_of(seen.facts, known.body.taps)
    except NotMeasured:
        return None  # somebody else's record whose frame is none: it is to be measured anew
    share = seen.picture.width / seen.facts.width_px
    # Taps count from the photo's edge, a picture's pixels from the middle of the first.
    return Frame(frame.kind, frame.pixels * share - 0.5, frame.places)
