"""What is typed behind a command: words, lengths and bodies, refused in plain words."""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Final, TypeVar

from schemas.trouble import BadInput

if TYPE_CHECKING:
    from fieldapp.work.site import Site
    from schemas.part import Part

Model = TypeVar("Model", bound="Part")
LONGEST_M: Final = Decimal(99_999)


@dataclass(eq=False)
class NoSuchWord(BadInput):
    """Another word was given than those that are known."""

    given: str
    what: str
    known: str

    happened = "“{given}” is no {what}."
    kept = "Nothing was changed."
    do_next = "Give one of these: {known}."


@dataclass(eq=False)
class NoLength(BadInput):
    """A length was given that is none."""

    given: str
    what: str

    happened = "“{given}” can't be the {what}."
    kept = "Nothing was changed."
    do_next = "Give metres as a plain number, such as 1390.20."


@dataclass(eq=False)
class NotStated(BadInput):
    """Something that was typed can't be so."""

    what: str
    field: str
    reason: str
    besides: str = ""

    happened = "{what} can't be so: {field}: {reason}{besides}."
    kept = "Nothing was changed."
    do_next = "Type the command once more with that put right."


def one_of(known: Iterable[str], given: str, what: str) -> str:
    """Give the known word that was meant, whatever its capitals.

    Raises
    ------
    NoSuchWord
        It is none of them.
    """
    words = tuple(known)
    for word in words:
        if word.casefold() == given.strip().casefold():
            return word
    raise NoSuchWord(given, what, ", ".join(words))


def metres(given: str, what: str) -> Decimal:
    """Read metres as they were typed.

    Raises
    ------
    NoLength
        It is no number, not finite, negative, or longer than any drive.
    """
    value = shift_m(given, what)
    if value < 0:
        raise NoLength(given, what)
    return value


def shift_m(given: str, what: str) -> Decimal:
    """Read by how many metres something moves: inbye, or outbye with a minus.

    Raises
    ------
    NoLength
        It is no number, not finite, or longer than any drive.
    """
    try:
        value = Decimal(given)
    except InvalidOperation as error:
        raise NoLength(given, what) from error
    if not value.is_finite() or abs(value) > LONGEST_M:
        raise NoLength(given, what)
    return value


def kept_settings(site: "Site") -> None:
    """Keep a site's settings in its home, whole or not at all."""
    from fieldapp.start import SETTINGS_FILE, write_settings

    write_settings(site.folder / SETTINGS_FILE, site.settings)


def stated(model: type[Model], what: str, **fields: object) -> Model:
    """Put what was typed together; what doesn't belong is named as a person calls it.

    Raises
    ------
    NotStated
        Names the first field that is refused, and the reason.
    """
    from schemas.reading import Refused, read_model
    from schemas.reasons import as_typed

    given = {name: value for name, value in fields.items() if value is not None}
    try:
        return read_model(json.dumps(given).encode(), model, source=what)
    except Refused as refused:
        from fieldapp.work.standard_editing.fields import named, steps_of

        field = named(steps_of(refused.path), given)
        name = f"{what[0].upper()}{what[1:]}"
        raise NotStated(name, field, as_typed(refused.reason), refused.besides) from refused
