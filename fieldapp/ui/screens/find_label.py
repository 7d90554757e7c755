"""Find label: from a photo of a label, or from its short id, to the thing that it is on."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from kivy.clock import Clock
from kivy.properties import (
    BooleanProperty,
    ListProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)

from fieldapp.report.words.label import date_words, place_words, state_words, title_words
from fieldapp.ui.names import short
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.photo.camera_sheet import CameraSheet
from fieldapp.ui.photo.choosing import choose_photo
from fieldapp.ui.photo_waiting import PhotoWaiting
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.id_pad import IdPad
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.progress_line import ProgressLine
from fieldapp.work.finding_labels import Watch, find_in_photo, find_typed
from fieldapp.work.labels import Labelled
from fieldapp.work.photo.photographs import clear_taken
from fieldapp.work.site import Site
from schemas.trouble import Trouble
from sync.outcome import Stopped

__all__ = ["FindLabelScreen", "Header", "IdPad", "Key", "KeyRow", "PagedList", "ProgressLine"]

RECENT = 12
Found = tuple[Labelled, ...]


class FindLabelScreen(PairedScreen):
    """Finds what a label is on; a search of a photo is stopped at any moment."""

    doing = StringProperty()
    part = NumericProperty(0)
    goes_on = BooleanProperty(False)
    has_camera = BooleanProperty(False)
    main_title = StringProperty()
    main_second = StringProperty()
    other_title = StringProperty()
    other_second = StringProperty()
    nothing = StringProperty()
    recent = ListProperty()
    lies_wide = BooleanProperty(True)
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._search = object()
        self._waiting = PhotoWaiting(self.shell, self.search, self._failed)
        self.make_row = self._row

    def opened(self) -> None:
        """Be ready for another label."""
        self.has_camera = self.shell.site.settings.camera_folder is not None
        self.nothing = _("What you find stands here, to come back to.")
        self._rest()

    def leave(self) -> None:
        """Stop whatever goes on, and return."""
        self._stop()
        self.shell.go_back()

    # --- what is done -------------------------------------------------------------------------

    def act(self) -> None:
        """Do what the main key says: wait for the camera, choose a photo, or stop."""
        if self.goes_on:
            self._stop()
        elif self.has_camera:
            self._wait_for_camera()
        else:
            self.choose()

    def act_otherwise(self) -> None:
        """Do what the key beside it says: choose a photo, or take one with the own camera."""
        if self.has_camera:
            self.choose()
        else:
            CameraSheet(self.shell, self.search).open()

    def choose(self) -> None:
        """Ask which photo."""
        choose_photo(self.shell, self.search)

    def search(self, photo: Path) -> None:
        """Look for labels in a photo."""
        self._begin(_("Looking for a label"))
        job = partial(_find, self.shell.site, photo, partial(self._watch, self._search))
        self.shell.do(job, then=self._found, on_trouble=self._failed, lane="long")

    def entered(self, typed: str) -> None:
        """Find what bears a short id."""
        job = partial(find_typed, self.shell.site, typed)
        self.shell.do(job, then=self._typed_found)

    def show(self, thing: Labelled) -> None:
        """Say what a thing is, where, how it stands, and offer ways on."""
        shell = self.shell
        job = partial(state_words, shell.site, thing, shell.now())
        shell.do(job, then=partial(self._tell, thing))

    # --- inside -------------------------------------------------------------------------------

    def _begin(self, words: str) -> None:
        self._search = object()  # what goes on still of an older one stops
        self.goes_on, self.doing, self.part = True, words, 0
        self.main_title, self.main_second = _("Stop"), ""

    def _rest(self) -> None:
        self._waiting.stop()
        self.goes_on, self.doing, self.part = False, "", 0
        if self.has_camera:
            self.main_title, self.main_second = _("Photograph it"), _("by the camera app")
            self.other_title, self.other_second = _("Choose a photo"), ""
        else:
            self.main_title, self.main_second = _("Choose a photo"), ""
            self.other_title, self.other_second = _("Camera"), _("of this tablet")

    def _stop(self) -> None:
        self._search = object()
        self._rest()

    def _wait_for_camera(self) -> None:
        self._begin(_("Take the photo now"))
        self._waiting.begin(self.shell.site.settings.camera_folder)

    def _watch(self, search: object, done: int, of: int) -> None:
        """Told beside the screen: stop there, or show how far it is."""
        if search is not self._search:
            raise Stopped
        Clock.schedule_once(lambda _elapsed: self._show_part(done / of), -1)

    def _show_part(self, part: float) -> None:
        if self.goes_on:
            self.part = part

    def _found(self, found: Found | None) -> None:
        if found is not None:
            self._rest()
            self._take(found)

    def _typed_found(self, found: Found) -> None:
        self.ids.pad.typed = ""
        self._take(found)

    def _failed(self, trouble: Trouble) -> None:
        self._rest()
        self.shell.say(trouble)

    def _take(self, found: Found) -> None:
        self.recent = [*found, *(it for it in self.recent if it not in found)][:RECENT]
        if len(found) == 1:
            self.show(found[0])
            return
        sheet = KeySheet(_("More than one thing is meant: which?"))
        for it in found:
            sheet.offer(short(title_words(it)), partial(self.show, it), self._briefly(it))
        sheet.open()

    def _tell(self, thing: Labelled, state: str) -> None:
        if self.shell.screen is not self:
            return  # somebody went on meanwhile; it stands among what was found
        zone = ZoneInfo(self.shell.site.settings.zone)
        where = ", ".join(filter(None, (self._place(thing), date_words(thing, zone))))
        sheet = KeySheet(title_words(thing), f"{where}. {state}")
        for words, second, go in self._ways_on(thing):
            sheet.offer(words, go, second)
        sheet.open()

    def _ways_on(self, thing: Labelled) -> Iterator[tuple[str, str, Callable[[], None]]]:
        """Yield what is offered: what, more of it, and the way there."""
        if not thing.heading:
            return  # its heading has not come to this tablet yet
        go, about = self.shell.open, {"heading_id": thing.heading_id}
        if thing.kind == "damage":
            yield _("Damage"), _("photos, repair"), partial(go, "rehab_list", damage_id=thing.id)
            yield _("Seen again"), "", partial(go, "damage", again=thing.id, **about)
        else:
            yield _("Record damage"), _("here"), partial(go, "damage", **about)
        yield _("Entry"), short(thing.heading), partial(go, "entry", **about)

    def _place(self, thing: Labelled) -> str:
        return place_words(thing, self.shell.site.settings.units)

    def _briefly(self, thing: Labelled) -> str:
        """Say where it is in the two short lines of a key."""
        return self._place(replace(thing, heading=short(thing.heading), s_m=None, to_m=None))

    def _row(self, thing: Labelled) -> Key:
        key = Key(title=short(title_words(thing)), second=self._briefly(thing), tall=True)
        key.bind(on_release=lambda _key: self.show(thing))
        return key


def _find(site: Site, photo: Path, watch: Watch) -> Found | None:
    """Look for labels in a photo; None where somebody stopped it."""
    try:
        return find_in_photo(site, photo, watch)
    except Stopped:
        return None
    finally:
        clear_taken(site, photo)
