"""A sign code on this tablet for somebody who has none here: chosen twice, told the office."""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import StringProperty

from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.enrol.key_requests import ask_for_key
from fieldapp.work.known import Known
from schemas.bodies.person import Person
from schemas.check_number import check_number, in_groups

__all__ = ["Key", "KeyAsking", "KeyWaits", "Words"]


class KeyAsking:
    """Asks somebody for a new sign code, twice, and makes the key that waits for the office."""

    def __init__(self, shell: Any, who: Known[Person]) -> None:
        self._shell, self._who = shell, who

    def ask(self) -> None:
        """Show the check number of a key that waits, else ask for a code."""
        waiting = self._shell.site.store.keys.waiting(self._who.id)
        if waiting is None:
            self._ask_code()
        else:
            self._tell(waiting)

    def _ask_code(self) -> None:
        question = _("{name}: choose a sign code for this tablet")
        self._shell.ask_code(question.format(name=short(self._who.body.name)), self._ask_again)

    def _ask_again(self, code: str) -> None:
        question = _("The same sign code once more")
        self._shell.ask_code(question, partial(self._take, code))

    def _take(self, code: str, again: str) -> None:
        if code != again:
            self._ask_code()
            return
        job = partial(ask_for_key, self._shell.site, self._who, sign_code=code)
        self._shell.do(job, then=lambda asked: self._tell(asked.public_key))

    def _tell(self, public_key: str) -> None:
        KeyWaits(self._who.body.name, public_key, self._ask_code).open()


class KeyWaits(Sheet):
    """Tells what somebody reads to the office before their sign code opens this tablet."""

    number = StringProperty()

    def __init__(self, name: str, public_key: str, anew: Callable[[], None]) -> None:
        super().__init__(
            title=_("The sign code of {name} waits for the office").format(name=name),
            note=_(
                "Share, and read this check number to the records keeper. After the next "
                "exchange the code opens this tablet."
            ),
        )
        self.number = in_groups(check_number(public_key))
        self._anew = anew

    def anew(self) -> None:
        """Choose another code."""
        self.close()
        self._anew()
