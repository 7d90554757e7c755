"""What a draft is of: its own first bytes say so."""

from typing import Literal

from fieldapp.store.drafts import Draft

Of = Literal["round", "damage", "bolt_test"]


def is_of(draft: Draft, what: Of) -> bool:
    """Tell what a draft is of; one that says nothing of it is of a round."""
    begins = {it: f'{{"draft":"{it}"'.encode() for it in ("damage", "bolt_test")}
    if what == "round":
        return not draft.about.startswith(tuple(begins.values()))
    return draft.about.startswith(begins[what])
