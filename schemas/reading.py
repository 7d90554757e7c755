"""Turns JSON from outside into a model, or says in plain words what stands in the way.

Called for a file that a person wrote by hand (a standard, settings, a bundle): the refusal
names the first place and its reason, and how many other places are refused.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from schemas.canonical import JsonValue, Unreadable, parse_json
from schemas.json_places import path_of
from schemas.reasons import Fault, reason_of

MOST_VALUES = 200_000
"""No file that is read here is larger; it keeps a hostile one from making a million faults."""

Model = TypeVar("Model", bound=BaseModel)


@dataclass(eq=False)
class Refused(Unreadable):
    """JSON that can be read, but doesn't hold what belongs there."""

    others: int = 0
    """How many other places are refused as well."""
    every: tuple[tuple[str, str], ...] = ()
    """Each refused place with its reason, this one first."""
    besides: str = field(init=False, repr=False, default="")

    happened = "{source} is refused: at {path}, {reason}{besides}."
    kept = "Nothing was taken from it; what is stored on this tablet is untouched."
    do_next = "Put right what stands at {path}, then read it again."

    def __post_init__(self) -> None:
        places = "place is" if self.others == 1 else "places are"
        self.besides = f" ({self.others} more {places} refused)" if self.others else ""


def read_model(raw: bytes, model: type[Model], *, source: str) -> Model:
    """Read one JSON text as a model, strictly: text is text, a whole number has no quotes.

    Parameters
    ----------
    raw : bytes
        The text as it came.
    model : type
        What it should hold.
    source : str
        What it is called when a person is told about it.

    Raises
    ------
    Refused
        A field is missing or holds what doesn't belong there.
    Unreadable
        It is no strict JSON (`parse_json`).
    """
    value = parse_json(raw, source=source)
    if _is_too_much(value):
        reason = f"it holds more than {MOST_VALUES:,} values"
        raise Refused(source, "$", reason, every=(("$", reason),))
    try:
        return model.model_validate_json(raw, strict=True)
    except ValidationError as error:
        raise _refusal(error, value, source) from error


def _refusal(error: ValidationError, value: JsonValue, source: str) -> Refused:
    faults: dict[str, list[Fault]] = {}
    for details in error.errors(include_url=False):
        fault = Fault.of(details, value)
        if fault.is_an_echo:
            continue
        faults.setdefault(path_of(fault.steps), []).append(fault)
    every = tuple((path, reason_of(those)) for path, those in faults.items())
    return Refused(source, *every[0], others=len(faults) - 1, every=every)


def _is_too_much(value: JsonValue) -> bool:
    return any(count > MOST_VALUES for count, _ in enumerate(_values(value), start=1))


def _values(value: JsonValue) -> Iterator[JsonValue]:
    todo = [value]
    while todo:
        top = todo.pop()
        yield top
        if isinstance(top, dict):
            todo.extend(top.values())
        elif isinstance(top, list):
            todo.extend(top)
