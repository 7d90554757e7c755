"""The touches of what is filled in field by field: damage, a walk, a test of support."""

from collections.abc import Iterable
from typing import Any, TypeVar

from pydantic import AwareDatetime, Field

from schemas.part import Own


class SaidTouch(Own):
    """What one touch said, and who touched; `undone` takes the last standing one back."""

    at: AwareDatetime
    by: str | None = None
    says: dict[str, Any] = Field(default_factory=dict)
    undone: bool = False


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
