"""Where people may go, in words: the same on every screen, sheet and list that says it.

The line comes first, in metres, and that nobody goes beyond it. What is left from there to the
face is said for itself, with its reason; so is the way in, outbye of the line.
"""

from dataclasses import dataclass

from fieldapp.assess.entry.state import UNSUPPORTED, EntryState, State
from fieldapp.report.words.lengths import Units, chainage_words, in_units, line_words

NOBODY = "nobody beyond"
AT_THE_FACE = "the face itself"
BRIEFLY: dict[str, str] = {
    "restricted": "restricted",
    "barricaded": "barricaded",
    "no entry, barrier not yet up": "no barrier yet",
}


@dataclass(frozen=True)
class EntrySaid:
    """One heading's entry in words, to be put together; nothing stands where nothing is said."""

    at: str
    """"611.2 m": the entry line, never beyond where it is."""
    bound: str
    """That nobody goes beyond it; or that it is the face itself."""
    face: str
    """"612.0 m"."""
    beyond: str
    """What holds from the line to the face: a restriction there opens no unsupported ground."""
    why: str
    """The strictest reason for that."""
    brief: tuple[str, ...]
    """The bound and what holds beyond it in fewer and fewer words, where there is little room."""
    way_in: str
    """What holds outbye, up to the line."""
    way_in_why: str

    @property
    def line(self) -> str:
        """The whole answer: "to 611.2 m, nobody beyond"."""
        return f"to {self.at}, {self.bound}"

    @property
    def rest(self) -> str:
        """What is left before the face, what holds there, and why; empty at the face itself."""
        if not self.beyond:
            return ""
        return f"from there to the face at {self.face}: {_held(self.beyond, self.why)}"

    @property
    def outbye(self) -> str:
        """What holds on the way in, and why; empty where it is plainly allowed."""
        return f"on the way in, outbye: {self.up_to_it}" if self.way_in_why else ""

    @property
    def up_to_it(self) -> str:
        """What holds outbye, and why, in a line that says where that is already."""
        return _held(self.way_in, self.way_in_why)


def entry_said(state: EntryState, units: Units) -> EntrySaid:
    """Put an entry into words, lengths as the mine reads them."""
    beyond = state.beyond
    return EntrySaid(
        at=line_words(state.line_m, units),
        bound=NOBODY if beyond else AT_THE_FACE,
        face=chainage_words(state.face_m, units),
        beyond=beyond,
        why=_why(state, beyond, units),
        brief=_brief(state, beyond) if beyond else (AT_THE_FACE,),
        way_in=state.outbye,
        way_in_why=_way_in_why(state, units),
    )


def _held(state: str, why: str) -> str:
    """Put a state before its reason, said once where the reason begins with it."""
    if why.startswith(state):
        return why
    return f"{state}, {why.removeprefix('no entry: ')}" if why else state


def _why(state: EntryState, beyond: str, units: Units) -> str:
    if beyond == UNSUPPORTED:
        beyond_it = state.state == "restricted" and state.outbye != "restricted"
        restricted = _reason(state, "restricted", units) if beyond_it else ""
        return "; ".join(filter(None, ("the next round supports it", restricted)))
    return _reason(state, state.state, units) if beyond else ""


def _way_in_why(state: EntryState, units: Units) -> str:
    if state.outbye == "not known":
        return "supported before this record"
    return _reason(state, state.outbye, units)


def _reason(state: EntryState, held: State, units: Units) -> str:
    """Give the strictest reason for a state that holds."""
    of_it = (reason.words for reason in state.reasons if reason.state == held)
    return in_units(next(of_it, ""), units)


def _brief(state: EntryState, beyond: str) -> tuple[str, ...]:
    """Give fewer and fewer words; a permission is told by its end, which its reason explains."""
    held = dict.fromkeys(BRIEFLY.get(it, "") for it in (beyond, state.outbye))
    said = ", ".join(filter(None, held))
    until = next((reason.until for reason in state.reasons if reason.until), "")
    if said == BRIEFLY["restricted"] and until:
        in_full = f"{NOBODY}, {said} until {until}"
        return (in_full, f"{NOBODY}, {said}", f"{said} until {until}", f"until {until}")
    least = BRIEFLY.get(beyond, said)
    return tuple(dict.fromkeys((f"{NOBODY}, {said}", said, least))) if said else (NOBODY,)
