"""The support class of the ground at a heading's face, where it changed within a round."""

from collections.abc import Sequence

from fieldapp.assess.readings import last_row_m
from schemas.bodies.round import Round


def class_ahead(own: str, rounds: Sequence[Round]) -> str:
    """Give the class that a heading's next round is put up by: that of the ground at the face.

    It is the heading's own, unless the ground changed within one of its rounds and the class past
    the change went on to the face. An engineer who gives the heading another class after that is
    heard: only a change from the class that the heading still has is followed.

    Parameters
    ----------
    own : str
        The heading's class.
    rounds : sequence of Round
        Its rounds, from the joint inbye.
    """
    ahead: str | None = None
    for seen in reversed([it for it in rounds if it.over is None]):
        second = seen.second_domain
        changed = second is not None and second.from_m < last_row_m(seen)
        nearest = second.support_class if second and changed else seen.support_class
        ahead = ahead or nearest
        if nearest != ahead:
            return own
        if changed:
            return ahead if seen.support_class == own else own
    return own
