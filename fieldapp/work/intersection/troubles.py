"""Why an intersection, or a step of its cables, is not stated."""

from dataclasses import dataclass

from schemas.trouble import BadInput, NotAllowed


@dataclass(eq=False)
class OpeningRefused(BadInput):
    """What was given of an opening can't be one."""

    heading: str
    reason: str

    happened = "The intersection in {heading} can't be stated so: {reason}."
    kept = "Nothing was stated, and entry is as it was."
    do_next = "Give from where to where it opens, and its corners one after another. Or state no \
entry."


@dataclass(eq=False)
class NoSuchCable(BadInput):
    """A bolt or class is named that the standard in force doesn't have."""

    cable: str
    support_class: str

    happened = "The standard in force has no {cable} in a support class {support_class}."
    kept = "Nothing was stated, and entry is as it was."
    do_next = "Look at the standard for the class of intersections and its long bolt."


@dataclass(eq=False)
class NoSuchIntersection(BadInput):
    """No intersection is known by that id."""

    name: str

    happened = "No intersection here is known as {name}."
    kept = "Nothing was changed."
    do_next = "Look for its id: lastrow intersection list."


@dataclass(eq=False)
class WhichIntersection(BadInput):
    """A heading has several, or none."""

    heading: str
    known: str

    happened = "{heading} has {known}, so it isn't known which is meant."
    kept = "Nothing was changed."
    do_next = "Name one by its id: lastrow intersection list."


@dataclass(eq=False)
class StepRefused(BadInput):
    """A step of the cables can't have been done as it was said."""

    step: str
    reason: str

    happened = "The cables can't be {step} so: {reason}."
    kept = "They stand as they were, and entry beneath is as it was."
    do_next = "Give how many there are in all by now, and when the last was done, once more."


@dataclass(eq=False)
class PutInByThem(NotAllowed):
    """Whoever put in the cables wants to sign for them."""

    person: str

    happened = "{person} had a hand in these cables, so somebody else looks at their plates."
    kept = "They stand as they were, and entry beneath is restricted."
    do_next = "Ask a shift supervisor or geotechnical engineer who put in none of them."
