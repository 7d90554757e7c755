"""Asking for one field of a standard: a number, words, one of a few, or whether it is there."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final

from fieldapp.ui.panels.letters_panel import TypingPanel
from fieldapp.ui.shell import Shell
from fieldapp.ui.standard_edit_work import LEFT_OUT, typed_value, value_words
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.standard_editing import Field, Steps

LONGEST_WORDS: Final = 400
DECIMALS: Final = 3
YES_OR_NO: Final = ((_("Yes"), True), (_("No"), False))


class FieldAsking:
    """Asks, then tells what was said; a part or a list is put in, not said."""

    def __init__(
        self,
        shell: Shell,
        set_it: Callable[[Field, Any], None],
        put_in: Callable[[Steps], None],
    ) -> None:
        self._shell, self._set, self._put_in = shell, set_it, put_in

    def ask(self, field: Field) -> None:
        """Ask for a field as its kind asks for."""
        if field.kind in ("number", "count", "text"):
            self._ask_another(field)
        elif field.kind == "part":
            self._ask_part(field)
        elif field.kind == "list":
            self._put_in(field.steps)
        else:
            self._ask_choice(field)

    def _ask_another(self, field: Field) -> None:
        ask = self._ask_words if field.kind == "text" else self._ask_number
        if not field.optional or field.value is None:
            ask(field)
            return
        sheet = KeySheet(field.question, value_words(field))
        sheet.offer(_("Another"), partial(ask, field), role="main")
        sheet.offer(LEFT_OUT.capitalize(), partial(self._set, field, None))
        sheet.open()

    def _ask_number(self, field: Field) -> None:
        self._shell.ask_number(
            field.question,
            lambda typed: self._set(field, typed_value(field, typed)),
            unit=field.unit,
            limit=_("now {value}").format(value=value_words(field)),
            decimals=0 if field.kind == "count" else DECIMALS,
        )

    def _ask_words(self, field: Field) -> None:
        now = str(field.value or "")
        TypingPanel(
            field.question, partial(self._set, field), longest=LONGEST_WORDS, typed=now
        ).open()

    def _ask_choice(self, field: Field) -> None:
        sheet = KeySheet(field.question, value_words(field))
        for words, value in YES_OR_NO if field.kind == "yes or no" else ():
            sheet.offer(words, partial(self._set, field, value))
        for it in field.choices:
            chosen = partial(self._set, field, _chosen(field, it))
            sheet.offer(_(it), chosen, second=_mark(field, it))
        if field.optional and field.value is not None:
            sheet.offer(LEFT_OUT.capitalize(), partial(self._set, field, None))
        sheet.open()

    def _ask_part(self, field: Field) -> None:
        if field.value is None:
            self._put_in(field.steps)
            return
        sheet = KeySheet(field.question, field.meaning)
        sheet.offer(_("Leave it out"), partial(self._set, field, None), role="main")
        sheet.open()


def _chosen(field: Field, choice: str) -> Any:
    """Give what stands in a field once a choice was touched: of several, it comes or goes."""
    if field.kind != "choices":
        return choice
    now = list(field.value or ())
    if choice in now:
        return [it for it in now if it != choice]
    return [it for it in field.choices if it in (*now, choice)]


def _mark(field: Field, choice: str) -> str:
    if field.kind != "choices":
        return _("now") if field.value == choice else ""
    return _("is in it") if choice in (field.value or ()) else ""
