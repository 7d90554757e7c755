"""Why a repair is not begun, done or verified."""

from dataclasses import dataclass

from schemas.trouble import BadInput, NotAllowed


@dataclass(eq=False)
class NoSuchRehab(BadInput):
    """No repair is known by that id."""

    name: str

    happened = "No repair here is known as {name}, or is of damage that is."
    kept = "Nothing was changed."
    do_next = "Look at the rehab list for its id: lastrow rehab list."


@dataclass(eq=False)
class SeveralRehabs(BadInput):
    """A name fits more than one repair."""

    name: str
    several: str

    happened = "More than one repair is meant by {name}: {several}."
    kept = "Nothing was changed."
    do_next = "Give one of these short ids."


@dataclass(eq=False)
class PhotoOrWhy(NotAllowed):
    """A repair is to be done, and nobody took a photo or said why there is none."""

    from_m: str
    to_m: str

    happened = "The repair of {from_m} to {to_m} m was not said to be done: no photo shows what \
was done, and nobody said why."
    kept = "It is in hand and barricaded, as it was."
    do_next = "Take a photo of it, or say why there is none, then say once more that it is done."


@dataclass(eq=False)
class PhotoFromBefore(NotAllowed):
    """A repair is to be done, and its only photos were there before the work was begun."""

    taken: str
    begun: str

    happened = "The repair was not said to be done: its photo is of {taken}, and the work was \
begun {begun}, so it doesn't show what was done."
    kept = "The photo is kept; the repair is in hand and barricaded, as it was."
    do_next = "Take another photo, or say why there is none, or which clock was wrong, then say \
once more that it is done."


@dataclass(eq=False)
class NotInThatState(NotAllowed):
    """A repair can't be taken from where it is to where it was to go."""

    act: str
    state: str

    happened = "The repair can't be {act}: it is {state}."
    kept = "It stands as it was."
    do_next = "Look at the rehab list: somebody may have gone on with it on another tablet."


@dataclass(eq=False)
class BarrierFirst(NotAllowed):
    """A repair is to begin and nobody said where the barrier is."""

    from_m: str
    to_m: str

    happened = "The repair of {from_m} to {to_m} m was not begun: nobody said who put up the \
barrier, and where it stands."
    kept = "Entry is as it was."
    do_next = "Put up the barrier, then state who did and where."


@dataclass(eq=False)
class DoneElsewhere(BadInput):
    """The part that was done is no part of the repair."""

    done: str
    whole: str

    happened = "What was done, {done} m, is no part of the repair of {whole} m."
    kept = "The repair is in hand, as it was."
    do_next = "Give the chainages once more, or plan another repair for what lies outside."


@dataclass(eq=False)
class InstallerVerifies(NotAllowed):
    """Whoever did the work wants to verify it."""

    person: str

    happened = "{person} did this work, so somebody else looks at it and verifies it."
    kept = "The repair is done and barricaded, as it was."
    do_next = "Ask a supervisor, technician or engineer who had no hand in it."


@dataclass(eq=False)
class NotToBeVerified(NotAllowed):
    """A repair can't be verified as it is."""

    reason: str

    happened = "The repair was not verified: {reason}."
    kept = "It is done and barricaded, as it was."
    do_next = "Have that put right, or refuse the repair and say why."


@dataclass(eq=False)
class SignedForOneSide(NotAllowed):
    """The verified side of two was chosen: its signature is of that side, and of no other."""

    step: str
    """What leads on from the other side."""

    happened = "The verified side can't be chosen: whoever signed it had not seen the other side, \
and nobody else can sign for them."
    kept = "Both sides stand, and the stricter entry with them."
    do_next = "Look at the place, then {step}: a new signature covers both sides."
