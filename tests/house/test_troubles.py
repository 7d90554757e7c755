"""A trouble says what happened, what was kept and what to do next."""

import inspect

import pytest

from schemas.trouble import BadInput, DiskTrouble, NotAllowed, Trouble
from tests.house.tree import PACKAGES, modules

KINDS = (BadInput, DiskTrouble, NotAllowed)
"""They say whose trouble it is; only what stands below them is raised."""


class Fact(str):
    """Stands in for any fact, in whichever form a sentence asks for it."""

    __slots__ = ()

    def __format__(self, form: str) -> str:
        return str(self)


def troubles() -> list[type[Trouble]]:
    for package in PACKAGES:
        modules(package)
    found: dict[type[Trouble], None] = {}
    waiting: list[type[Trouble]] = [Trouble]
    while waiting:
        below = waiting.pop().__subclasses__()
        found |= dict.fromkeys(below)
        waiting += below
    return sorted(set(found) - set(KINDS), key=lambda kind: (kind.__module__, kind.__name__))


every_trouble = pytest.mark.parametrize("kind", troubles(), ids=lambda kind: kind.__name__)


@every_trouble
def test_a_trouble_tells_three_whole_sentences(kind: type[Trouble]) -> None:
    facts = {name: Fact(f"<{name}>") for name in inspect.signature(kind).parameters}
    trouble = kind(**facts)
    missing = [part for part in ("happened", "kept", "do_next") if not hasattr(kind, part)]

    assert not missing, f"write {missing} in {kind.__name__}"
    for sentence in trouble.sentences():
        assert sentence.strip(), f"a sentence of {kind.__name__} is empty"
        assert sentence.endswith("."), f"end it with a full stop: {sentence}"
        assert "{" not in sentence, f"a place was left unfilled: {sentence}"


@every_trouble
def test_a_trouble_is_somebodys(kind: type[Trouble]) -> None:
    assert issubclass(kind, KINDS), "make it BadInput, NotAllowed or DiskTrouble: the exit code"
