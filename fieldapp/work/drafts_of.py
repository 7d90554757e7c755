"""What a draft is of: its own first bytes say so."""

from typing import Final, Literal, get_args

from fieldapp.store.drafts import Draft

Of = Literal["round", "damage", "bolt_test", "walk", "standard", "intersection"]
_BEGINS: Final = {it: f'{{"draft":"{it}"'.encode() for it in get_args(Of) if it != "round"}


def is_of(draft: Draft, what: Of) -> bool:
    """Tell what a draft is of; one that says nothing of it is of a round."""
    if what == "round":
        return not draft.about.startswith(tuple(_BEGINS.values()))
    return draft.about.startswith(_BEGINS[what])
