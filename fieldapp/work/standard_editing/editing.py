"""A new revision on its way to being signed: the fold of its touches over the one before.

Each touch is on the disk before it is shown, and undo goes back through all of them. Nothing of
it is in force before it is signed; until then it may lack figures, or contradict itself.
"""

import json
from collections.abc import Callable, Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final, Literal

from fieldapp.assess.standard_check import Caution, Refusal, refusals, warnings
from fieldapp.work.known import Known
from fieldapp.work.roles import require
from fieldapp.work.said_touches import Filled, SaidTouch, begun, put_touch
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_editing.fields import (
    NOT_EDITED,
    SIGNED,
    Steps,
    empty,
    form_of,
    is_list,
    part_at,
)
from fieldapp.work.standard_in_force import NoStandard, adopted, in_force, of_revision
from fieldapp.work.writing import new_thing_id
from schemas.canonical import Unreadable
from schemas.part import Own
from schemas.reading import Refused, read_model
from schemas.standard import Standard

Act = Literal["set", "add", "remove", "all"]
_SOURCE: Final = "the new revision"


class StandardAbout(Own):
    """What a draft of a standard begins from."""

    draft: Literal["standard"]
    base: str
    """Revision hash of the standard that it changes."""


class StandardTouch(SaidTouch):
    """What one touch did: set a field, put in or lengthen a part, take one away; or everything."""

    act: Act = "set"
    steps: Steps = ()
    value: Any = None


@dataclass(frozen=True)
class StandardWork(Filled[StandardTouch]):
    """A new revision as it stands: the one before, and every touch since."""

    draft_id: str
    base_revision: str
    base: Mapping[str, Any]
    """The JSON of the revision before."""
    touches: tuple[StandardTouch, ...] = ()

    @cached_property
    def document(self) -> dict[str, Any]:
        """The JSON of the new revision, as far as it goes."""
        document: dict[str, Any] = deepcopy(dict(self.base))
        document["revision"] = self.base["revision"] + 1
        for touch in self.standing:
            _ACTS[touch.act](document, touch.steps, touch.value)
        return document

    @cached_property
    def standard(self) -> Standard | Refused:
        """The new revision; or why it can't be read as one yet, with the place."""
        raw = json.dumps(self.document).encode()
        try:
            return read_model(raw, Standard, source=_SOURCE)
        except Refused as refused:
            return refused
        except Unreadable as unreadable:
            place = unreadable.path, unreadable.reason
            return Refused(_SOURCE, *place, every=(place,))

    @cached_property
    def refusals(self) -> tuple[Refusal, ...]:
        """Why it can't be signed as it is."""
        if isinstance(self.standard, Refused):
            return tuple(Refusal(path, reason) for path, reason in self.standard.every)
        return refusals(self.standard)

    @cached_property
    def warnings(self) -> tuple[Caution, ...]:
        """What its engineer should know before signing it all the same."""
        return () if isinstance(self.standard, Refused) else warnings(self.standard)


def open_revision(site: Site) -> StandardWork | None:
    """Give the new revision that was begun here; None where none was."""
    for draft_id, about, touches in begun(site, "standard", StandardAbout, StandardTouch):
        return StandardWork(draft_id, about.base, _document(site, about.base), touches)
    return None


def begin_revision(site: Site, session: Session) -> StandardWork:
    """Go on with the new revision that was begun here, or begin one from the newest adopted.

    That is the newest of the code that is in force: also one that comes into force only later.

    Raises
    ------
    NotYours
        Only a geotechnical engineer changes the standard.
    NoStandard
        None is in force: the first one is adopted from a file.
    """
    require(session, "geotechnical engineer", act="change the standard")
    going_on = open_revision(site)
    if going_on is not None:
        return going_on
    newest = newest_of(site, in_force(site, site.now()).body.code)
    about = StandardAbout(draft="standard", base=newest.entry.revision)
    draft_id = new_thing_id(site)
    site.store.drafts.begin(draft_id, about.model_dump_json().encode())
    return StandardWork(draft_id, about.base, _document(site, about.base))


def newest_of(site: Site, code: str) -> Known[Standard]:
    """Give the newest adopted revision of a standard.

    Raises
    ------
    NoStandard
        None of that code was adopted.
    """
    revisions = [it for it in adopted(site) if it.body.code == code]
    if not revisions:
        raise NoStandard(site.mine.name)
    return max(revisions, key=lambda it: it.body.revision)


def keep_touch(site: Site, work: StandardWork, touch: StandardTouch) -> StandardWork:
    """Put one touch on the disk, then give the work that follows from it."""
    put_touch(site, work.draft_id, touch)
    return replace(work, touches=(*work.touches, touch))


def set_field(
    site: Site, work: StandardWork, steps: Steps, value: Any, by: str | None
) -> StandardWork:
    """Set one field; None leaves out what may be left out."""
    return keep_touch(site, work, _touch(site, by, "set", steps, value))


def put_in(site: Site, work: StandardWork, steps: Steps, by: str | None) -> StandardWork:
    """Put in a part that was left out, or one more at the end of a list.

    One more begins as a copy of the last; where there is none, its figures are to be filled in.
    """
    now = part_at(work.document, steps)
    form = form_of(steps)
    assert form is not None  # noqa: S101 - only parts are put in
    value = deepcopy(now[-1]) if isinstance(now, list) and now else empty(form)
    act: Act = "add" if is_list(steps) else "set"
    return keep_touch(site, work, _touch(site, by, act, steps, value))


def take_away(site: Site, work: StandardWork, steps: Steps, by: str | None) -> StandardWork:
    """Take one part of a list away."""
    return keep_touch(site, work, _touch(site, by, "remove", steps, None))


def undo(site: Site, work: StandardWork, by: str | None) -> StandardWork:
    """Take the last standing touch back; nothing to take back changes nothing."""
    if not work.can_undo:
        return work
    return keep_touch(site, work, StandardTouch(at=site.now(), by=by, undone=True))


def discard(site: Site, work: StandardWork) -> None:
    """Let a new revision go that is not to be signed."""
    site.store.drafts.finish(work.draft_id, [])


# --- inside ---------------------------------------------------------------------------------


def _touch(site: Site, by: str | None, act: Act, steps: Steps, value: Any) -> StandardTouch:
    return StandardTouch(at=site.now(), by=by, act=act, steps=steps, value=value)


def _document(site: Site, revision: str) -> dict[str, Any]:
    base = of_revision(site, revision)
    assert base is not None  # noqa: S101 - what was adopted is never forgotten
    body = {name: it for name, it in base.entry.body.items() if name not in SIGNED}
    found: dict[str, Any] = json.loads(json.dumps(body))
    return found


def _set(document: Any, steps: Steps, value: Any) -> None:
    within = part_at(document, steps[:-1])
    if isinstance(within, dict) and value is None:
        within.pop(steps[-1], None)
    elif within is not None:
        within[steps[-1]] = deepcopy(value)


def _add(document: Any, steps: Steps, value: Any) -> None:
    within = part_at(document, steps[:-1])
    within[steps[-1]] = [*(within.get(steps[-1]) or ()), deepcopy(value)]


def _remove(document: Any, steps: Steps, _value: Any) -> None:
    within = part_at(document, steps[:-1])
    del within[steps[-1]]


def _all(document: Any, _steps: Steps, value: Any) -> None:
    """Leave of the revision before only what is the same in all of them."""
    for name in [it for it in document if it not in NOT_EDITED]:
        del document[name]
    document.update(deepcopy(value))


_ACTS: Final[Mapping[Act, Callable[[Any, Steps, Any], None]]] = {
    "set": _set,
    "add": _add,
    "remove": _remove,
    "all": _all,
}
