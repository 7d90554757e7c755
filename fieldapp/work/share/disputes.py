"""Things that two tablets state differently: shown side by side, settled by a person.

Nothing is merged by a program. Until somebody settles it, the stricter entry stands. What a
person chose is a new revision that follows both, and travels like any other.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from fieldapp.work.authority import ENGINEER, HEADING_KEEPERS, INSPECTORS, Which, counting
from fieldapp.work.people import still_enrolled
from fieldapp.work.rechaining import said_once_more
from fieldapp.work.rehab.troubles import SignedForOneSide
from fieldapp.work.roles import SIGNERS, require
from fieldapp.work.share.decided_twice import decided_twice, loses_with
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
    "intersection": SIGNERS,
}
"""What people revise, and who may say which of two revisions stands."""

_SHOWN_OF_A_DECISION = ("decision", "says", "entry_line_m", "fix_list")
_BINDS = ("public_key", "signature", "covers")
"""What binds a statement to whoever signed it: nobody compares it."""
_FIRST = ("state", "refused_because")
"""What a repair is, before how it was done."""
_SETTLED = "settled: the other decision stands"

NOTHING = "–"
DIGITS_OF_AN_ID = 8
"""So many of its last ones tell two apart; nobody reads more."""
_ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}|[0-9a-f]{64}")
STANDS, REVISED = "it stands", "as it was revised"


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

    Or two sign-offs of one round that decide differently; or a revision, and at the right a
    withdrawal of what it revises.
    """

    left: Entry
    right: Entry
    without: Entry | None = None
    """What stands where a withdrawal does; None where nothing is left then."""

    @property
    def is_withdrawn(self) -> bool:
        """Whether one side is that the thing was withdrawn."""
        return self.right.kind == "withdrawal" != self.left.kind

    @property
    def kind(self) -> str:
        """What sort of thing it is."""
        return self.left.kind

    @property
    def differences(self) -> tuple[Difference, ...]:
        """Where they differ, in the order in which the fields are written."""
        if not self.is_withdrawn:
            return tuple(_differences("", _shown(self.left), _shown(self.right)))
        stands = Difference(STANDS, REVISED, f"withdrawn: {self.right.body.get('reason')}")
        left = _shown(self.without) if self.without else {}
        return (stands, *_differences("", _shown(self.left), left))


def disputes(site: Site) -> tuple[Dispute, ...]:
    """Give what was decided differently of a round, then what has more than one revision.

    What was revised here and withdrawn there is settled before its revisions are.
    """
    decided = (Dispute(*both) for both in decided_twice(site))
    contested = tuple(_contested(site))
    apart = {it.left.id for it in contested}
    revised = (found for kind in SETTLED_BY for found in _of_kind(site, kind))
    return (*decided, *contested, *(it for it in revised if it.left.id not in apart))


def settle(site: Site, dispute: Dispute, chosen: Entry, session: Session) -> Entry:
    """State that one side stands: a revision with its content that follows both.

    Of two decisions on a round the other is withdrawn instead: nobody revises a sign-off. Where
    a withdrawal is chosen, what was revised beside it is withdrawn too.

    Raises
    ------
    NotYours, NotYoursToSettle
        The person may not decide it.
    SignedForOneSide
        A verified repair was chosen: it is verified once more instead.
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
    if chosen.kind == "withdrawal":
        return _withdrawn(site, _revised_beside(site, other), session)
    settles = _against(site, chosen) if dispute.is_withdrawn else (other,)
    again = said_once_more(site, chosen)
    entry = corrected(chosen, again, stated_now(site, session.person_id), settles=settles)
    if not counting(site).counts(entry) or counting(site).contests(entry):
        if chosen.kind == "rehab" and chosen.body.get("state") == "verified":
            raise SignedForOneSide(_until_verified(other))
        raise NotYoursToSettle(session.name)
    site.store.ledger.add([entry])
    return entry


def _until_verified(other: Entry) -> str:
    """Say how a repair goes on to be verified once more, where this side stands beside it."""
    if other.kind == "withdrawal":
        return "choose the other side and verify it once more"
    state = str(other.body.get("state"))
    if state == "done":
        return "verify it once more on the rehab list"
    if state == "verified":
        return "reopen it on the rehab list, go on from there and verify it once more"
    return f"go on with it on the rehab list ({state}) and, once it is done, verify it once more"


def _withdrawn(site: Site, revisions: Iterable[str], session: Session) -> Entry:
    known = filter(None, map(site.store.ledger.get, revisions))
    bodies = [Withdrawal(thing=it.id, revision=it.revision, reason=_SETTLED) for it in known]
    entries = [written(site, "withdrawal", it, author=session.person_id) for it in bodies]
    if not all(map(counting(site).may_withdraw, entries)):
        raise NotYoursToSettle(session.name)
    site.store.ledger.add(entries)
    return entries[0]


def _revised_beside(site: Site, entry: Entry) -> Iterator[str]:
    """Give every revision of a thing that stands only if no withdrawal does."""
    known = counting(site)
    for it in site.store.ledger.of_thing(entry.id):
        if it.kind == entry.kind and known.counts(it) and known.contests(it):
            yield it.revision


def _against(site: Site, entry: Entry) -> tuple[Entry, ...]:
    """Give every withdrawal that contests a current revision."""
    contested = counting(site).contested.get(entry.id, ())
    return tuple(dict.fromkeys(one for it in contested for one in it.withdrawals))


def _contested(site: Site) -> Iterator[Dispute]:
    for _, contested in sorted(counting(site).contested.items()):
        for it in contested:
            if it.revision.kind in SETTLED_BY:
                yield Dispute(it.revision, it.withdrawals[0], next(iter(it.without), None))


def _of_kind(site: Site, kind: str) -> Iterator[Dispute]:
    heads = sorted(counting(site).heads(Which(kind)), key=lambda it: (it.id, it.clock))
    for _, of_one in groupby(heads, key=lambda it: it.id):
        sides = tuple(of_one)
        if len(sides) > 1:
            yield Dispute(*sides[:2])


def _shown(entry: Entry) -> dict[str, JsonValue]:
    """Give what a person compares: of a sign-off what was decided, not what binds it."""
    body = {name: it for name, it in entry.body.items() if name not in _BINDS}
    if entry.kind != "sign_off":
        return {**{name: body.get(name) for name in _FIRST}, **body}
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
    if isinstance(value, str) and _ID.fullmatch(value):
        return f"…{value[-DIGITS_OF_AN_ID:]}"
    if isinstance(value, list):
        return f"{len(value)} of them"
    if isinstance(value, dict):
        return ", ".join(f"{name.replace('_', ' ')} {_said(it)}" for name, it in value.items())
    return str(value)
