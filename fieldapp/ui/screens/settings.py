"""What this tablet is set to: look, units, shifts, crews, time zone; and about the app."""

from collections.abc import Callable
from datetime import time
from functools import partial
from importlib.metadata import version
from pathlib import Path
from typing import Any

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.start import SETTINGS_FILE, time_zones, write_settings
from fieldapp.ui import theme
from fieldapp.ui.backup_words import backup_words
from fieldapp.ui.long_paths import path_words
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.folder_panel import FolderPanel
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.report_work import ask_report
from fieldapp.ui.setting_choices import (
    Setting,
    Value,
    begins_at,
    camera_folder,
    crews,
    in_zone,
    look_and_units,
    paper,
    shifts,
    with_camera_folder,
)
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.setting_row import SettingRow
from fieldapp.ui.widgets.words import Words
from fieldapp.ui.zones import ZoneChoice, areas, places
from schemas.settings import Settings

__all__ = ["CautionLine", "Header", "Key", "KeyRow", "PagedList", "SettingsScreen"]

QUARTERS = (0, 15, 30, 45)
LAST_HOUR = "23"


class SettingsScreen(PairedScreen):
    """Lines of keys. A touch is on the disk before it is shown as kept."""

    lines = ListProperty()
    kept = StringProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.make_row = self._make_row
        self._backups = ""

    def opened(self, **_about: Any) -> None:
        """Show what holds now."""
        self.kept = ""
        self._show()
        self.shell.do(
            partial(backup_words, self.shell.site), then=self._take_backups, lane="backup"
        )

    def report(self) -> None:
        """Ask which report is written."""
        ask_report(self.shell)

    def take(self, value: Value) -> None:
        """Do what a key stands for."""
        if value.asks is not None:
            value.asks()
        elif value.leads_to is not None:
            self._keep(value.leads_to)

    # --- keeping ------------------------------------------------------------------------------

    def _keep(self, wanted: Settings) -> None:
        shell = self.shell
        job = partial(write_settings, shell.site.folder / SETTINGS_FILE, wanted)
        shell.do(job, then=lambda _none: self._kept(wanted))

    def _kept(self, settings: Settings) -> None:
        shell = self.shell
        shell.site = shell.site.with_settings(settings)
        theme.look.use(settings.theme)
        self.kept = _("kept {time}").format(time=shell.clock_words())
        self._show()

    # --- asking -------------------------------------------------------------------------------

    def _ask_time(self, number: int) -> Callable[[], None]:
        return partial(self._ask_hour, number)

    def _ask_hour(self, number: int) -> None:
        shift = self.shell.site.settings.shifts[number]
        self.shell.ask_number(
            _("At which hour does the {shift} begin?").format(shift=shift.name),
            partial(self._ask_minute, number),
            unit="h",
            limit=_("now {time}").format(time=f"{shift.starts:%H:%M}"),
            smallest="0",
            largest=LAST_HOUR,
            decimals=0,
        )

    def _ask_minute(self, number: int, hour: str) -> None:
        sheet = KeySheet(_("At which minute?"))
        for minute in QUARTERS:
            starts = time(int(hour), minute)
            sheet.offer(f"{starts:%H:%M}", partial(self._set_time, number, starts))
        sheet.open()

    def _set_time(self, number: int, starts: time) -> None:
        self._keep(begins_at(self.shell.site.settings, number, starts))

    def _ask_camera_folder(self) -> None:
        now = self.shell.site.settings.camera_folder
        start = now if now else Path.home()
        title = _("Into which folder does the camera write its photos?")
        FolderPanel(title, start, self._set_camera_folder).open()

    def _set_camera_folder(self, folder: Path) -> None:
        self._keep(with_camera_folder(self.shell.site.settings, folder))

    def _ask_area(self) -> None:
        self.shell.do(time_zones, then=self._ask_area_of, lane="long")

    def _ask_area_of(self, zones: tuple[str, ...]) -> None:
        title = _("Time zone: which part of the world?")
        HeadingPanel(title, areas(zones), partial(self._ask_place, zones)).open()

    def _ask_place(self, zones: tuple[str, ...], area: ZoneChoice) -> None:
        if area.zone:
            self._set_zone(area)
            return
        title = _("Time zone: which place in {area}?").format(area=area.name)
        HeadingPanel(title, places(zones, area.name), self._set_zone).open()

    def _set_zone(self, choice: ZoneChoice) -> None:
        self._keep(in_zone(self.shell.site.settings, choice.zone))

    # --- showing ------------------------------------------------------------------------------

    def _show(self) -> None:
        settings = self.shell.site.settings
        self.lines = [
            *look_and_units(settings),
            shifts(settings, self._ask_time),
            crews(settings),
            camera_folder(settings, self._ask_camera_folder),
            self._zone(settings),
            paper(settings),
            *self._about(),
        ]

    def _take_backups(self, words: str) -> None:
        self._backups = words
        self._show()

    def _zone(self, settings: Settings) -> Setting:
        key = Value(settings.zone, second=_("another zone"), asks=self._ask_area)
        return Setting(_("Time zone"), (key,))

    def _about(self) -> tuple[Setting, ...]:
        site = self.shell.site
        mine = site.mine.name or _("no mine is started on it")
        return (
            Setting(_("This tablet"), told=f"{mine} · {site.mine.tablet}".strip(" ·")),
            Setting(_("Its records"), told=path_words(str(site.folder))),
            Setting(_("Backups"), told=self._backups),
            Setting(_("Lastrow"), told=_("version {number}").format(number=version("lastrow"))),
        )

    def _make_row(self, setting: Setting) -> SettingRow:
        row = SettingRow(name=setting.name)
        if setting.told:
            row.add_widget(Words(text=setting.told, asked=theme.SMALL_TEXT, lines=2))
        for value in setting.values:
            key = Key(title=value.title, second=value.second, selected=value.chosen)
            key.bind(on_release=lambda _key, value=value: self.take(value))
            row.add_widget(key)
        return row
