"""A trouble says what happened, what was kept and what to do next."""

import inspect

from schemas.trouble import BadInput, DiskTrouble, NotAllowed, Trouble
from tests.house.tree import PACKAGES, modules

KINDS = (BadInput, DiskTrouble, NotAllowed)
"""They say whose trouble it is; only what stands below them is raised."""


SENTENCES = ("happened", "kept", "do_next")
SHORTEST = len("Try it.")


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


def told(kind: type[Trouble]) -> tuple[str, ...]:
    """Fill a trouble's three sentences with facts of the right names."""
    missing = [part for part in SENTENCES if not hasattr(kind, part)]
    assert not missing, f"write {missing} in {kind.__module__}.{kind.__name__}"
    facts = {name: Fact(f"<{name}>") for name in inspect.signature(kind).parameters}
    return kind(**facts).sentences()


def test_a_trouble_tells_three_whole_sentences() -> None:
    poor = [
        f"{kind.__module__}.{kind.__name__}: {sentence}"
        for kind in troubles()
        for sentence in told(kind)
        if len(sentence) < SHORTEST or not sentence.endswith(".") or "{" in sentence
    ]

    assert not poor, "fill each place, and end it with a full stop"


def test_a_trouble_is_somebody_s() -> None:
    nobody_s = [kind.__qualname__ for kind in troubles() if not issubclass(kind, KINDS)]

    assert not nobody_s, "make it BadInput, NotAllowed or DiskTrouble: the exit code"


def test_there_are_troubles() -> None:
    assert len(troubles()) > 10, "the rules for troubles would hold of nothing"
