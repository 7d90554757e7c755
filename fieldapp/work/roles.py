"""Who may do what."""

from dataclasses import dataclass

from fieldapp.work.site import Session
from schemas.bodies.person import AUTHORITY, Role
from schemas.trouble import NotAllowed


@dataclass(eq=False)
class NotYours(NotAllowed):
    """A person's roles don't allow an act."""

    person: str
    act: str
    needed: str

    happened = "{person} may not {act}: that needs a {needed}."
    kept = "Nothing was changed."
    do_next = "Ask a {needed} to do it on this tablet."


SIGNERS: tuple[Role, ...] = ("shift supervisor", "geotechnical engineer")
"""Shift supervisor or above."""


def require(session: Session, *roles: Role, act: str) -> Role:
    """Give the first of `roles` that the person has.

    Raises
    ------
    NotYours
        The person has none of them.
    """
    for role in roles:
        if role in session.roles:
            return role
    raise NotYours(session.name, act, " or ".join(roles))


def highest(session: Session | None) -> Role | None:
    """Give the person's role of the greatest authority; None where nobody is signed in."""
    if session is None:
        return None
    return max(session.roles, key=lambda role: AUTHORITY[role])


def authority(role: Role | None) -> int:
    """Give the standing of a role where entry is lifted; anyone's is the least."""
    return -1 if role is None else AUTHORITY[role]
