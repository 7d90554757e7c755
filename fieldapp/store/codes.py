"""Who has a key, and how long somebody waits who types wrong codes.

Apart from `keys`, so that the jobs of the day can name these without loading the database.
"""

from dataclasses import dataclass

from schemas.trouble import NotAllowed

SITE = "site"
"""The owner of the site's root key."""

_FREE_TRIES = 3
_FIRST_WAIT_S = 5
_LONGEST_WAIT_S = 15 * 60
_MOST_DOUBLINGS = 16


@dataclass(eq=False)
class KeyMissing(NotAllowed):
    """Somebody has no key on this tablet."""

    owner: str
    happened = "There is no key of {owner} on this tablet."
    kept = "Nothing was changed."
    do_next = "Have the records keeper enrol {owner} on this tablet."


@dataclass(eq=False)
class SignCodeDelayed(NotAllowed):
    """After several wrong codes the next try has to wait."""

    owner: str
    wait_s: int
    happened = "Several wrong sign codes were entered for {owner}; the next try is in {wait_s} s."
    kept = "The code was not looked at; nothing was changed."
    do_next = "Wait, then enter the code, or ask the records keeper for a new one."


def wait_s(wrong: int) -> int:
    """Tell how long to wait after so many wrong codes in a row: 5 s after three, doubling."""
    if wrong < _FREE_TRIES:
        return 0
    doubled = min(wrong - _FREE_TRIES, _MOST_DOUBLINGS)
    return min(_FIRST_WAIT_S << doubled, _LONGEST_WAIT_S)
