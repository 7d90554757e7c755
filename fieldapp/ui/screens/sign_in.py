"""Who is here: the people of the mine on large keys, then the sign code. Also the lock."""

from dataclasses import dataclass
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.names import short
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.joining import JoinPanel
from fieldapp.ui.panels.key_asking import KeyAsking
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.words import Words
from fieldapp.work.known import Known
from fieldapp.work.own_keys import codes_here
from fieldapp.work.people import people, sign_in
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired
from fieldapp.work.whole import as_far_as_whole
from schemas.bodies.person import AUTHORITY, Person

__all__ = ["CautionLine", "Header", "Key", "KeyRow", "PagedGrid", "SignInScreen", "Words"]

Who = Known[Person]


@dataclass(frozen=True)
class Enrolled:
    """Who is enrolled, and who of them has a sign code on this tablet."""

    everybody: tuple[Who, ...]
    has_code: frozenset[str]
    paired: bool


class SignInScreen(PairedScreen):
    """Asks who is here. A locked tablet shows nothing else, but for *no entry*."""

    subtitle = StringProperty()
    everybody = ListProperty()
    nobody = StringProperty()
    codes = StringProperty()
    paired = BooleanProperty(False)
    has_code = ObjectProperty(frozenset())
    may_share = BooleanProperty(False)
    is_started = BooleanProperty(False)
    make_key: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.make_key = self._make_key

    def opened(self) -> None:
        """Look who is enrolled."""
        site = self.shell.site
        self.is_started = bool(site.mine.name)
        self.subtitle = site.mine.name
        self.codes = self._code_words()
        look = partial(as_far_as_whole, site, partial(_look, site))
        self.shell.do(look, then=self._show)

    def choose(self, who: Who) -> None:
        """Ask for the sign code of whoever was touched."""
        if self.paired and who.id not in self.has_code:
            KeyAsking(self.shell, who).ask()
            return
        question = _("Sign code of {name}").format(name=short(who.body.name))
        self.shell.ask_code(question, partial(self._sign_in, who))

    def share_or_join(self) -> None:
        """Go to the shared folder, for which nobody need be signed in; join a site first."""
        if self.paired:
            self.shell.open("share_folder")
        else:
            JoinPanel(self.shell, self.opened).open()

    def _sign_in(self, who: Who, code: str) -> None:
        shell, again = self.shell, partial(self.choose, who)
        shell.do(
            partial(sign_in, shell.site, who, code),
            then=partial(shell.signed_in, code_digits=len(code)),
            on_trouble=lambda trouble: shell.say_of_code(trouble, again),
        )

    def _show(self, found: "Enrolled") -> None:
        self.paired, self.has_code = found.paired, found.has_code
        self.may_share = found.paired or not self.shell.site.mine.name
        self.everybody = found.everybody
        self.nobody = "" if found.everybody else self._nobody_words()

    def _nobody_words(self) -> str:
        lacking = self.shell.site.store.wholeness.lacking
        if lacking is not None:
            return str(lacking.told())
        if not self.shell.site.mine.name:
            return _(
                "No mine was started on this tablet. Touch Join a site where an office has "
                "made one, or start one in the terminal: lastrow mine start NAME. An invented "
                "one to try: lastrow demo."
            )
        if self.paired:
            return _("Nobody is known here yet: touch Share, so that the office is heard.")
        return _("Nobody is enrolled yet. The records keeper enrols people: lastrow person add.")

    def _code_words(self) -> str:
        codes = " · ".join(f"{name} {code}" for name, code in self.shell.demo_codes)
        return _("Sign codes of this invented mine: {codes}").format(codes=codes) if codes else ""

    def _make_key(self, who: Who) -> Key:
        waits = self.paired and who.id not in self.has_code
        second = _("no sign code on this tablet") if waits else _role(who)
        key = Key(title=short(who.body.name), second=second, tall=True)
        key.bind(on_release=lambda _key: self.choose(who))
        return key


def _look(site: Site) -> Enrolled:
    return Enrolled(people(site), codes_here(site), is_paired(site))


def _role(who: Who) -> str:
    """Give the highest role, where the name doesn't say it already; the others are counted."""
    highest = max(who.body.roles, key=lambda role: AUTHORITY[role])
    others = len(who.body.roles) - 1
    if others:
        return _("{role} and {count} more").format(role=highest, count=others)
    return "" if highest.casefold() == who.body.name.casefold() else highest
