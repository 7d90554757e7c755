"""A test of support on its way to being kept: the fold of its touches.

Each reading is on the disk before it is shown: a pull can't be made twice. Killed half-way it
comes back at the same reading. Nothing of it counts before it is kept.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property
from typing import Any, Final, Literal

from pydantic import AwareDatetime

from fieldapp.work.authority import ENGINEER
from fieldapp.work.bolt_tests.correcting import correction_entries, may_correct, to_correct
from fieldapp.work.bolt_tests.recording import Recorded, bolt_test, bolt_test_entries
from fieldapp.work.headings import heading
from fieldapp.work.place_chained import by_its_touches, touched_there
from fieldapp.work.rechaining import chained_now
from fieldapp.work.said_touches import Filled, SaidTouch, begun, put_touch
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import new_thing_id
from schemas.bodies.bolt_test import BoltTest
from schemas.part import Own

NEEDED: Final = ("kind", "why", "chainage_m", "zone")
"""Without these nobody could find the bolt: it can't be kept yet."""
LOAD_NOW: Final = "load_now"
"""A load that was read, while its displacement is awaited."""
CORE: Final = "core"
"""The strength of one more core."""
NO_MORE: Final = "no_more"
"""Everything was read."""
HOLD_FROM: Final = "hold_from"
"""When the hold timer was started; None: it is stopped."""
BOLT_ROW: Final = "bolt_row"
"""In which row of its round the bolt stands, while its number is awaited."""
ANEW: Final = "anew"
"""A touch that says this takes back one thing that was stated: it is asked once more."""
NOT_OF_THE_BODY: Final = (LOAD_NOW, CORE, NO_MORE, HOLD_FROM, BOLT_ROW)
GO_WITH: Final[Mapping[str, tuple[str, ...]]] = {
    "pulled": ("pulled", NO_MORE),
    "cores_mpa": ("cores_mpa", NO_MORE),
    "chainage_m": ("chainage_m", "round", "s_m"),
    "bolt": ("bolt", BOLT_ROW),
    "held_min": ("held_min", "hold_told_at"),
}
"""What is taken back with one thing that is asked anew."""
_MINUTE: Final = timedelta(minutes=1)


class BoltTestAbout(Own):
    """What a draft of a test begins from."""

    draft: Literal["bolt_test"]
    heading_id: str
    began: dict[str, Any]
    """What is known before the first touch: of a test that is due, which and why."""
    began_at: AwareDatetime
    corrects: str | None = None
    """Id of the test that is put right; None: it is a new one."""
    agrees_with: str | None = None
    """Why it was put right by somebody whose correction waits for this engineer."""
    chained_at: AwareDatetime | None = None
    """By which chainages it began, as far as this tablet knew."""


@dataclass(frozen=True)
class BoltTestWork(Filled[SaidTouch]):
    """One test as it stands: what it began as, and every touch since."""

    test_id: str
    about: BoltTestAbout
    touches: tuple[SaidTouch, ...] = ()

    @cached_property
    def said(self) -> dict[str, Any]:
        """Everything that stands: a field that is not in it was never answered."""
        said = dict(self.about.began)
        for touch in self.standing:
            said = _told(said, touch)
        return said

    @property
    def readings(self) -> tuple[Mapping[str, str], ...]:
        """Load and displacement, one after another."""
        return tuple(self.said.get("pulled", ()))

    @property
    def tested_at(self) -> datetime:
        """When something was read last; before that, when it was begun. No correction moves it."""
        if self.about.corrects is not None:
            return self.about.began_at
        read = (it.at for it in self.standing if _READ & it.says.keys())
        return max(read, default=self.about.began_at)

    @property
    def held_since(self) -> datetime | None:
        """When the hold timer was started that is running."""
        since = self.said.get(HOLD_FROM)
        return None if since is None else datetime.fromisoformat(since)

    @property
    def test(self) -> BoltTest | None:
        """The test; None while nobody could find the bolt by what was said."""
        if any(self.said.get(name) is None for name in NEEDED):
            return None
        body = {name: it for name, it in self.said.items() if name not in NOT_OF_THE_BODY}
        body |= {"heading": self.about.heading_id, "tested_at": self.tested_at}
        body = {"chained_at": self.about.chained_at, **body}
        return BoltTest.model_validate({name: it for name, it in body.items() if it is not None})


_READ: Final = frozenset({LOAD_NOW, "displacement_mm", "torque_nm", CORE})


def begun_bolt_tests(site: Site) -> tuple[BoltTestWork, ...]:
    """Give every test that was begun here and is neither kept nor discarded."""
    return tuple(BoltTestWork(*it) for it in begun(site, "bolt_test", BoltTestAbout, SaidTouch))


def begin_bolt_test(site: Site, heading_id: str, began: Mapping[str, Any]) -> BoltTestWork:
    """Go on with what is being tested in a heading, or begin: on disk before this returns.

    A test begins with what is known of it. What else was begun there waits, unless nothing more
    is known of this one than the heading.
    """
    place = heading(site, heading_id)
    begun_ones = (it for it in begun_bolt_tests(site) if it.about.corrects is None)
    here = (it for it in begun_ones if it.about.heading_id == place.id)
    going_on = next((it for it in here if not began or it.about.began == began), None)
    if going_on is not None:
        return going_on
    about = BoltTestAbout(
        draft="bolt_test",
        heading_id=place.id,
        began=dict(began),
        began_at=site.now(),
        chained_at=chained_now(site, place.id),
    )
    draft_id = new_thing_id(site)
    site.store.drafts.begin(draft_id, about.model_dump_json().encode())
    return BoltTestWork(draft_id, about)


def begin_correction(site: Site, test_id: str, session: Session | None) -> BoltTestWork:
    """Go on with putting a test right, or begin with what was stated of it.

    Raises
    ------
    NoSuchTest
        No test has that id.
    NotYours
        Only whoever made it or a geotechnical engineer corrects it.
    """
    known = bolt_test(site, test_id)
    session = may_correct(site, known.id, session)
    going_on = (it for it in begun_bolt_tests(site) if it.about.corrects == known.id)
    found = next(going_on, None)
    if found is not None:
        return found
    of_the_draft = {"heading", "tested_at", "chained_at", "corrected_because"}
    said = to_correct(known).model_dump(mode="json", exclude=of_the_draft)
    about = BoltTestAbout(
        draft="bolt_test",
        heading_id=known.heading_id,
        began={**said, NO_MORE: True, BOLT_ROW: None},
        began_at=known.test.tested_at,
        corrects=known.id,
        agrees_with=known.waits.test.corrected_because
        if known.waits and session.has(*ENGINEER)
        else None,
        chained_at=chained_now(site, known.heading_id),
    )
    draft_id = new_thing_id(site)
    site.store.drafts.begin(draft_id, about.model_dump_json().encode())
    return BoltTestWork(draft_id, about)


def keep_test_touch(site: Site, work: BoltTestWork, touch: SaidTouch) -> BoltTestWork:
    """Put one touch on disk, then give the work that follows from it."""
    touch = touched_there(site, work.about.heading_id, touch)
    put_touch(site, work.test_id, touch)
    return replace(work, touches=(*work.touches, touch))


def undo_test(site: Site, work: BoltTestWork, by: str | None) -> BoltTestWork:
    """Take the last standing touch back; nothing to take back changes nothing."""
    if not work.can_undo:
        return work
    return keep_test_touch(site, work, SaidTouch(at=site.now(), by=by, undone=True))


def hold_timed(site: Site, work: BoltTestWork, by: str | None) -> BoltTestWork:
    """Start the hold timer; touched again it stops, and the whole minutes are the hold."""
    since, now = work.held_since, site.now()
    says: dict[str, Any] = {HOLD_FROM: now.isoformat()}
    if since is not None:
        says = {HOLD_FROM: None, "held_min": max(0, (now - since) // _MINUTE)}
    return keep_test_touch(site, work, SaidTouch(at=now, by=by, says=says))


def keep_bolt_test(
    site: Site, work: BoltTestWork, session: Session, *, all_the_same: bool = False
) -> Recorded:
    """State it: the entries are there and the draft is closed, in one step.

    Raises
    ------
    BoltTestRefused, KeepItSo, NothingCorrected, NotYours
        As for `record_bolt_test` and `correct_bolt_test`; the draft stays as it was.
    PlaceInDoubt
        Chainages were measured anew meanwhile; the draft stays as it was.
    """
    test = work.test
    assert test is not None  # noqa: S101 - the key is there once the bolt can be found
    test = by_its_touches(site, test, work.standing, work.about.began_at)
    if work.about.corrects is not None:
        entries, corrected = correction_entries(
            site, work.about.corrects, test, session, all_the_same=all_the_same
        )
        recorded = corrected.recorded
    else:
        entries, recorded = bolt_test_entries(
            site, test, session, thing_id=work.test_id, all_the_same=all_the_same
        )
    site.store.drafts.finish(work.test_id, entries)
    return recorded


def discard_test(site: Site, work: BoltTestWork) -> None:
    """Discard what was begun and is not to be kept."""
    site.store.drafts.finish(work.test_id, [])


def _told(said: dict[str, Any], touch: SaidTouch) -> dict[str, Any]:
    """Fold what one touch said into what was said before; a reading keeps the touch's time."""
    said, says, at = dict(said), touch.says, touch.at.isoformat()
    if ANEW in says:
        gone = GO_WITH.get(says[ANEW], (says[ANEW],))
        return {name: it for name, it in said.items() if name not in gone}
    if "displacement_mm" in says:
        reading = {"load_kn": said.pop(LOAD_NOW), "displacement_mm": says["displacement_mm"]}
        reading["read_at"] = at
        return said | {"pulled": [*said.get("pulled", ()), reading]}
    if CORE in says:
        return said | {"cores_mpa": [*said.get("cores_mpa", ()), says[CORE]]}
    if says.get("held_min") is not None:
        said["hold_told_at"] = at
    return said | dict(says)
