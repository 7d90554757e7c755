"""Who is here: the people of the mine on large keys, then the sign code. Also the lock."""

from functools import partial
from typing import Any

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.names import short
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.words import Words
from fieldapp.work.known import Known
from fieldapp.work.people import people, sign_in
from schemas.bodies.person import AUTHORITY, Person

__all__ = ["CautionLine", "Header", "Key", "KeyRow", "PagedGrid", "SignInScreen", "Words"]

Who = Known[Person]


class SignInScreen(PairedScreen):
    """Asks who is here. A locked tablet shows nothing else, but for *no entry*."""

    subtitle = StringProperty()
    everybody = ListProperty()
    nobody = StringProperty()
    codes = StringProperty()
    make_key: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.make_key = self._make_key

    def opened(self) -> None:
        """Look who is enrolled."""
        site = self.shell.site
        self.subtitle = _("{mine} mine").format(mine=site.mine.name) if site.mine.name else ""
        self.codes = self._code_words()
        self.shell.do(partial(people, site), then=self._show)

    def choose(self, who: Who) -> None:
        """Ask for the sign code of whoever was touched."""
        question = _("Sign code of {name}").format(name=short(who.body.name))
        self.shell.ask_code(question, partial(self._sign_in, who))

    def _sign_in(self, who: Who, code: str) -> None:
        shell, again = self.shell, partial(self.choose, who)
        shell.do(
            partial(sign_in, shell.site, who, code),
            then=shell.signed_in,
            on_trouble=lambda trouble: shell.say_of_code(trouble, again),
        )

    def _show(self, everybody: tuple[Who, ...]) -> None:
        self.everybody = everybody
        self.nobody = self._nobody_words()

    def _nobody_words(self) -> str:
        if not self.shell.site.mine.name:
            return _(
                "No mine was started on this tablet. The records keeper starts one in the "
                "terminal: lastrow mine start NAME. An invented one to try: lastrow demo."
            )
        return _("Nobody is enrolled yet. The records keeper enrols people: lastrow person add.")

    def _code_words(self) -> str:
        codes = " · ".join(f"{name} {code}" for name, code in self.shell.demo_codes)
        return _("Sign codes of this invented mine: {codes}").format(codes=codes) if codes else ""

    def _make_key(self, who: Who) -> Key:
        key = Key(title=short(who.body.name), second=_role(who), tall=True)
        key.bind(on_release=lambda _key: self.choose(who))
        return key


def _role(who: Who) -> str:
    """Give the highest role, where the name doesn't say it already; the others are counted."""
    highest = max(who.body.roles, key=lambda role: AUTHORITY[role])
    others = len(who.body.roles) - 1
    if others:
        return _("{role} and {count} more").format(role=highest, count=others)
    return "" if highest.casefold() == who.body.name.casefold() else highest
