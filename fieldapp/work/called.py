"""Whether a person who names a thing means this one: by its short id, or by its whole id."""

from schemas.short_id import NotOurs, RoundSheetRead, ShortId, ShortIdUnread, short_digits, typed


def is_called(thing_id: str, name: str) -> bool:
    """Tell whether a name is a thing's id, or the short id that stands on its label."""
    if thing_id == name:
        return True
    try:
        return typed(name).is_of(thing_id)
    except (NotOurs, RoundSheetRead, ShortIdUnread):
        return False


def called(thing_id: str) -> str:
    """Give the short id of a thing as people read it: "7K3Q-9XTR-5"."""
    return ShortId(short_digits(thing_id)).readable
