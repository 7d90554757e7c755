"""The touches of what is filled in field by field: damage, a walk, a test of support."""

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import Any, Generic, TypeVar

from pydantic import AwareDatetime, Field

from fieldapp.work.drafts_of import Of, is_of
from fieldapp.work.site import Site
from schemas.part import Own


class SaidTouch(Own):
    """What one touch said, and who touched; `undone` takes the last standing one back."""

    at: AwareDatetime
    by: str | None = None
    says: dict[str, Any] = Field(default_factory=dict)
    undone: bool = False


About = TypeVar("About", bound=Own)
Touch = TypeVar("Touch", bound=SaidTouch)


def standing_of(touches: Iterable[Touch]) -> tuple[Touch, ...]:
    """Give the touches that have not been taken back."""
    standing: list[Touch] = []
    for touch in touches:
        if not touch.undone:
            standing.append(touch)
        elif standing:
            standing.pop()
    return tuple(standing)


class Filled(Generic[Touch]):
    """Mixed into what is filled in touch by touch: which of its touches stand."""

    touches: tuple[Touch, ...]

    @cached_property
    def standing(self) -> tuple[Touch, ...]:
        """The touches that have not been taken back."""
        return standing_of(self.touches)

    @property
    def can_undo(self) -> bool:
        """Whether a touch is left to take back."""
        return bool(self.standing)


def begun(
    site: Site, kind: Of, about: type[About], touch: type[Touch]
) -> Iterator[tuple[str, About, tuple[Touch, ...]]]:
    """Yield what of a kind was begun here and is open: its id, what it began as, its touches."""
    drafts = site.store.drafts
    for it in drafts.open_drafts():
        if is_of(it, kind):
            said = tuple(touch.model_validate_json(line) for line in drafts.touches(it.draft_id))
            yield it.draft_id, about.model_validate_json(it.about), said


def put_touch(site: Site, draft_id: str, touch: SaidTouch) -> None:
    """Put one touch on the disk: it is there when this returns."""
    line = touch.model_dump_json(exclude_defaults=True).encode()
    site.store.drafts.touch(draft_id, line)
