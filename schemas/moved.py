"""The chainages in a body, found by their type: a field that is added later is found too."""

from collections.abc import Callable
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar, get_args

from pydantic import BaseModel

from schemas.numbers import IN_THE_HEADING

Model = TypeVar("Model", bound=BaseModel)
Move = Callable[[Decimal], Decimal]


def with_chainages_moved(body: Model, move: Move) -> Model:
    """Give a body with each of its chainages moved; everything else is as it was.

    Parameters
    ----------
    body : Model
        Whatever was stated; what holds no chainage is given back itself. [m]
    move : callable
        Gives the new chainage of an old one. [m]

    Returns
    -------
    Model
        Fields that this version doesn't know stay as they are. [m]
    """
    changed = {}
    for name in fields_with_chainages(type(body)):
        old = getattr(body, name)
        new = _moved(old, move)
        if new != old:
            changed[name] = new
    return body.model_copy(update=changed) if changed else body


@cache
def fields_with_chainages(model: type[BaseModel]) -> tuple[str, ...]:
    """Give the names of the fields that are a chainage, or hold one somewhere within."""
    return tuple(
        name
        for name, field in model.model_fields.items()
        if IN_THE_HEADING in field.metadata or _holds_one(field.annotation)
    )


def _moved(value: Any, move: Move) -> Any:
    if isinstance(value, Decimal):
        return move(value)
    if isinstance(value, tuple):
        return tuple(_moved(it, move) for it in value)
    return with_chainages_moved(value, move) if isinstance(value, BaseModel) else value


def _holds_one(annotation: Any) -> bool:
    if IN_THE_HEADING in getattr(annotation, "__metadata__", ()):
        return True
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return bool(fields_with_chainages(annotation))
    return any(map(_holds_one, get_args(annotation)))
