"""What a draft is of: its own first bytes say so."""

from fieldapp.store.drafts import Draft


def is_of_damage(draft: Draft) -> bool:
    """Tell whether a draft is one of damage; others are of rounds."""
    return draft.about.startswith(b'{"draft":"damage"')
