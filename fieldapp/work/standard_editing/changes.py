"""What a new revision changes: every field that is not as before, each said as a person does."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from fieldapp.work.standard_editing.fields import NAMED_BY, SIGNED, Steps, named

NOTHING: Final = "left out"
"""What stands where a standard says nothing."""
_ALWAYS_NEW: Final = SIGNED | {"revision", "effective_from", "approved_by"}


@dataclass(frozen=True)
class Change:
    """One field that is not as it was, or a part that was put in or taken away."""

    steps: Steps
    words: str
    before: str
    after: str

    @property
    def sentence(self) -> str:
        """As it is read out: "D1, pattern, bolt spacing (m): 1.3, was 1.4"."""
        return f"{self.words}: {self.after}, was {self.before}"


def changes(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Change, ...]:
    """Say what is not as before.

    Parts of a list are held against one another by what tells them apart (a code, a kind), so
    that a class put in before another changes nothing else.

    Parameters
    ----------
    before, after : mapping
        The JSON of two revisions. [any]
    """
    return tuple(_changes(before, after, (), before, after))


def _changes(
    before: Any, after: Any, steps: Steps, whole: Mapping[str, Any], new: Mapping[str, Any]
) -> Iterator[Change]:
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for name in dict.fromkeys([*before, *after]):
            if not steps and name in _ALWAYS_NEW:
                continue
            here = (*steps, name)
            yield from _changes(before.get(name), after.get(name), here, whole, new)
    elif _are_parts(before) and _are_parts(after):
        yield from _listed(before or [], after or [], steps, whole, new)
    elif before != after:
        yield Change(steps, named(steps, new), _said(before), _said(after))


def _listed(
    before: list[Any],
    after: list[Any],
    steps: Steps,
    whole: Mapping[str, Any],
    new: Mapping[str, Any],
) -> Iterator[Change]:
    was = dict(zip(_keys(before), before, strict=True))
    for number, (key, part) in enumerate(zip(_keys(after), after, strict=True)):
        here = (*steps, number)
        if key in was:
            yield from _changes(was.pop(key), part, here, whole, new)
        else:
            yield Change(here, named(here, new), NOTHING, "put in")
    for number, key in enumerate(_keys(before)):
        if key in was:
            here = (*steps, number)
            yield Change(here, named(here, whole), "there", "taken away")


def _are_parts(value: Any) -> bool:
    return value is None or (
        isinstance(value, list) and all(isinstance(it, Mapping) for it in value)
    )


def _keys(parts: list[Any]) -> list[tuple[str, int]]:
    """Give what tells each part from the others; of those alike, which of them it is."""
    met: Counter[str] = Counter()
    keys: list[tuple[str, int]] = []
    for part in parts:
        said = " ".join(str(part[it]) for it in (*NAMED_BY, *_BESIDES) if part.get(it) is not None)
        keys.append((said, met[said]))
        met[said] += 1
    return keys


_BESIDES: Final = ("exposure", "support_class", "corrosivity")
"""What tells two parts apart that have one name: a cell of a matrix has two."""


def _said(value: Any) -> str:
    if value is None:
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(map(str, value)) or "none"
    if isinstance(value, Mapping):
        return "put in"
    return str(value)
