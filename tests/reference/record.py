"""What each reference test rests on, kept beside it so that it can be listed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeVar

Basis = Literal["published", "closed form", "common practice, no source", "from memory"]
Test = TypeVar("Test", bound=Callable[..., None])


@dataclass(frozen=True)
class Reference:
    """One reference test: its name, the source of its figures, and how far that was seen."""

    test: str
    source: str
    basis: Basis


RECORDS: list[Reference] = []
"""Every reference test that was imported, in order."""


def reference(source: str, basis: Basis) -> Callable[[Test], Test]:
    """Record the source of a reference test's figures."""

    def recorded(test: Test) -> Test:
        RECORDS.append(Reference(f"{test.__module__}.{test.__qualname__}", source, basis))
        return test

    return recorded
