"""Things that two tablets state differently: shown side by side, settled by a person.

Nothing is merged by a program. Until somebody settles it, the stricter entry stands. What a
person chose is a new revision that follows both, and travels like any other.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from fieldapp.work.authority import ENGINEER, HEADING_KEEPERS, INSPECTORS, Which, counting
from fieldapp.work.decided_twice import decided_twice, loses_with
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import SIGNERS, require
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import stated_now, written
from schemas.bodies.person import Role
from schemas.bodies.withdrawal import Withdrawal
from schemas.canonical import JsonValue
from schemas.entry import Entry, corrected
from schemas.trouble import NotAllowed

SETTLED_BY: dict[str, tuple[Role, ...]] = {
    "round": SIGNERS,
    "heading": HEADING_KEEPERS,
    "entry_notice": INSPECTORS,
    "standard": ENGINEER,
    "deviation": ENGINEER,
    "batch": ENGINEER,
    "damage": INSPECTORS,
    "rehab": INSPECTORS,
}
"""What people revise, and who may say which of two revisions stands."""

_SHOWN_OF_A_DECISION = ("decision", "says", "entry_line_m", "fix_list")
_SETTLED = "settled: the other decision stands"

NOTHING = "–"


@dataclass(eq=False)
class NotYoursToSettle(NotAllowed):
    """What was chosen would count as nothing, said by this person."""

    person: str

    happened = "{person} may not choose this side: it needs whoever set the other, or higher."
    kept = "Both sides stand, and the stricter entry with them."
    do_next = "Ask the role that set it, or a higher one, to settle it."


@dataclass(frozen=True)
class Difference:
    """One place in which two revisions differ, in words."""

    where: str
    left: str
    right: str


@dataclass(frozen=True)
class Dispute:
    """Two current revisions of one thing; of more than two, the two that were stated first.

    Or two sign-offs of one round that decide differently.
    """

    left: Entry
    right: Entry

    @property
    def kind(self) -> str:
        """What sort of thing it is."""
        return self.left.kind

    @property
    def differences(self) -> tuple[Difference, ...]:
        """Where they differ, in the order in which the fields are written."""
        return tuple(_differences("", _shown(self.left), _shown(self.right)))


def disputes(site: Site) -> tuple[Dispute, ...]:
    """Give what was decided differently of a round, then what has more than one revision."""
    decided = (Dispute(*both) for both in decided_twice(site))
    return (*decided, *(found for kind in SETTLED_BY for found in _of_kind(site, kind)))


def settle(site: Site, dispute: Dispute, chosen: Entry, session: Session) -> Entry:
    """State that one side stands: a revision with its content that follows both.

    Of two decisions on a round the other is withdrawn instead: nobody revises a sign-off.

    Raises
    ------
    NotYours, NotYoursToSettle
        The person may not decide it.
    EntryIsNewer
        A newer version wrote one of them, and only that one may change it.
    NoSuchPerson
        Their enrolment has ended since they signed in.
    """
    session = still_enrolled(site, session)
    act = f"settle which {dispute.kind.replace('_', ' ')} stands"
    require(session, *SETTLED_BY.get(dispute.kind, SIGNERS), act=act)
    other = dispute.right if chosen == dispute.left else dispute.left
    if dispute.kind == "sign_off":
        return _withdrawn(site, loses_with(chosen, other), session)
    entry = corrected(chosen, {}, stated_now(site, session.person_id), settles=(other,))
    if not counting(site).counts(entry):
        raise NotYoursToSettle(session.name)
    site.store.ledger.add([entry])
    return entry


def _withdrawn(site: Site, revisions: Iterable[str], session: Session) -> Entry:
    known = filter(None, map(site.store.ledger.get, revisions))
    bodies = [Withdrawal(thing=it.id, revision=it.revision, reason=_SETTLED) for it in known]
    entries = [written(site, "withdrawal", it, author=session.person_id) for it in bodies]
    if not all(map(counting(site).may_withdraw, entries)):
        raise NotYoursToSettle(session.name)
    site.store.ledger.add(entries)
    return entries[0]


def _of_kind(site: Site, kind: str) -> Iterator[Dispute]:
    heads = sorted(counting(site).heads(Which(kind)), key=lambda it: (it.id, it.clock))
    for _, of_one in groupby(heads, key=lambda it: it.id):
        sides = tuple(of_one)
        if len(sides) > 1:
            yield Dispute(*sides[:2])


def _shown(entry: Entry) -> dict[str, JsonValue]:
    """Give what a person compares: of a sign-off what was decided, not what binds it."""
    body = dict(entry.body)
    if entry.kind != "sign_off":
        return body
    return {name: body[name] for name in _SHOWN_OF_A_DECISION if name in body}


def _differences(where: str, left: JsonValue, right: JsonValue) -> Iterator[Difference]:
    if left == right:
        return
    if isinstance(left, dict) and isinstance(right, dict):
        for name in dict.fromkeys((*left, *right)):
            yield from _differences(_below(where, name), left.get(name), right.get(name))
    elif isinstance(left, list) and isinstance(right, list):
        yield from _in_lists(where, left, right)
    else:
        yield Difference(where, _said(left), _said(right))


def _in_lists(
    where: str, left: Sequence[JsonValue], right: Sequence[JsonValue]
) -> Iterator[Difference]:
    for place in range(max(len(left), len(right))):
        one = left[place] if place < len(left) else None
        other = right[place] if place < len(right) else None
        yield from _differences(_below(where, str(place + 1)), one, other)


def _below(where: str, name: str) -> str:
    """Name a field: `rows`, `2`, `plate_gap_mm` are "rows 2, plate gap mm"."""
    words = name.replace("_", " ")
    if not where:
        return words
    return f"{where} {words}" if words.isdigit() else f"{where}, {words}"


def _said(value: JsonValue) -> str:
    if value is None:
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return f"{len(value)} of them"
    if isinstance(value, dict):
        return ", ".join(f"{name.replace('_', ' ')} {_said(it)}" for name, it in value.items())
    return str(value)
