"""Which photos a machine brings from the share: an office all, a tablet what its people need.

Who repairs or verifies is to see what others saw. What is repaired and done with needs no room.
"""

from collections.abc import Iterable, Iterator

from fieldapp.work.bolt_tests.recording import bolt_tests
from fieldapp.work.known import current
from fieldapp.work.own_keys import is_office
from fieldapp.work.photo.photographs import photo_name
from fieldapp.work.rehab.rehab_list import RehabRow, rehab_list
from fieldapp.work.site import Site
from schemas.bodies.photo import Photo
from sync.names import PhotoName


def photos_wanted(site: Site) -> frozenset[PhotoName]:
    """Give every photo in an office; on a tablet those of open damage and of open repairs."""
    return frozenset(site.store.photos.named()) if is_office(site) else of_open_work(site)


def of_open_work(site: Site) -> frozenset[PhotoName]:
    """Give the photos of open damage and repairs, and of tests that support failed."""
    failed = (it.id for it in bolt_tests(site) if it.result.failed)
    wanted = {*_shown(rehab_list(site, site.now())), *failed}
    photos = current(site, "photo", Photo)
    return frozenset(photo_name(it.body) for it in photos if wanted & {it.id, it.body.of})


def _shown(rows: Iterable[RehabRow]) -> Iterator[str]:
    """Yield the ids of what photos are to show, and of photos that are named themselves."""
    for row in rows:
        yield row.id
        if row.rehab is not None:
            yield from (*row.rehab.damages, *row.rehab.before, *row.rehab.after)
        for damage in row.damages:
            yield from damage.observations
            for seen in damage.damage.seen:
                yield from seen.damage.photos
