"""Which photos of a repair show what was done: none that was there before the work was begun."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from fieldapp.work.known import Known
from fieldapp.work.photo.before import there_by
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.site import Sight
from schemas.bodies.photo import Photo
from schemas.bodies.rehab import Rehab

WHOLE_SECONDS: Final = timedelta(seconds=2)
"""Cameras and sticks tell no finer time than that."""


@dataclass(frozen=True)
class Proof:
    """Photos that were kept as such of what was done, by their ids, the oldest first."""

    shows: tuple[str, ...] = ()
    older: tuple[Known[Photo], ...] = ()
    """Those that were there before the work was begun, if no clock was wrong."""

    @property
    def every(self) -> tuple[str, ...]:
        """All of them: where somebody said which clock was wrong."""
        return (*(it.id for it in self.older), *self.shows)


def proof_of(site: Sight, rehab_id: str, rehab: Rehab, named: Iterable[str] = ()) -> Proof:
    """Look at the photos of a repair since it was begun last; at those that are `named` alone.

    What a repair names from before never shows what was done. A photo that others named and
    whose record is not here can't be judged here: it was where it was named.
    """
    own = {it.id: it for it in photos_of(site, rehab_id)}
    wanted = tuple(named) or (*rehab.after, *own)
    since = [it for it in dict.fromkeys(wanted) if it not in rehab.before]
    older = tuple(own[it] for it in since if it in own and _is_older(own[it], rehab))
    from_before = {it.id for it in older}
    return Proof(tuple(it for it in since if it not in from_before), older)


def _is_older(photo: Known[Photo], rehab: Rehab) -> bool:
    return rehab.started_at is not None and there_by(photo) < rehab.started_at - WHOLE_SECONDS
