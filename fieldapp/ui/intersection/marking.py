"""Bolts and cables of an intersection by touch: as standard at once, or one after the other."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import partial
from typing import Any, Final

from fieldapp.report.intersection_picture import Place
from fieldapp.ui.intersection.page import IntersectionPage
from fieldapp.ui.panels.letters_panel import LettersPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.intersection.seen import record_support
from schemas.bodies.intersection import Corner, PlanBolt, PlanCable
from schemas.numbers import SAID_M, rounded

NEAR_MM: Final = 6.0
"""A touch so near to a mark means it."""
FARTHEST_M: Final = "60"
MOST: Final = "500"
HIGHEST_M: Final = "10"


class Marking:
    """Asks what stands where, and states it; `then` is called once it is stated."""

    def __init__(self, shell: Any, page: IntersectionPage, then: Callable[[], None]) -> None:
        self._shell, self._page, self._then = shell, page, then
        self._bolts, self._cables = page.known.body.bolts, page.known.body.cables_at

    def ask(self) -> None:
        """Ask what is said of all of them at once."""
        note = _("Touch the plan to mark one bolt or cable, or a place where one stands.")
        sheet = KeySheet(_("Bolts and cables"), note)
        if self._page.demanded and not self._bolts:
            sheet.offer(_("Bolts as standard"), self._ask_bolts, _("counted, places assumed"))
        if self._bolts:
            sheet.offer(_("All plates seated"), self._ask_plates, _("counted"))
            sheet.offer(_("Bolts anew"), self._ask_anew, _("what was marked goes"))
        crown = self._page.known.body.crown_m
        said = _("judged flat") if crown is None else f"{crown} m"
        sheet.offer(_("Crown"), self._ask_crown, said)
        if self._cables:
            said = _("of all {n} cables").format(n=len(self._cables))
            sheet.offer(_("Length"), partial(self._ask_cable, "length_m", None), said)
            sheet.offer(_("Tension"), partial(self._ask_cable, "tension_kn", None), said)
            sheet.offer(_("Grout batch"), self._ask_batch, said)
        sheet.open()

    def at(self, place: Place, mm_per_m: float) -> None:
        """Ask about the mark nearest to a place that was touched, or what stands there."""
        near = NEAR_MM / mm_per_m
        bolt, cable = _nearest(self._bolts, place), _nearest(self._cables, place)
        off_bolt, off_cable = bolt[0], cable[0]
        if min(off_bolt, off_cable) > near:
            self._ask_new(place)
        elif off_bolt <= off_cable:
            self._ask_bolt(bolt[1], place)
        else:
            self._ask_one_cable(cable[1], place)

    # --- inside -------------------------------------------------------------------------------

    def _ask_new(self, place: Place) -> None:
        x, y = (rounded(it, SAID_M) for it in place)
        sheet = KeySheet(_("What stands here?"), _where(x, y))
        sheet.offer(_("Bolt, plate seated"), partial(self._add_bolt, x, y, "seated"))
        sheet.offer(_("Bolt, plate loose"), partial(self._add_bolt, x, y, "loose"))
        sheet.offer(_("Bolt, no plate"), partial(self._add_bolt, x, y, "missing"))
        sheet.offer(_("Cable"), partial(self._add_cable, x, y))
        sheet.open()

    def _ask_bolt(self, index: int, place: Place) -> None:
        it = self._bolts[index]
        sheet = KeySheet(_("This bolt"), _where(it.x_m, it.y_m))
        for plate, label in (
            ("seated", _("Plate seated")),
            ("loose", _("Plate loose")),
            ("missing", _("No plate")),
        ):
            sheet.offer(label, partial(self._change_bolt, index, {"plate": plate}))
        sheet.offer(_("Taped place"), partial(self._ask_x, "bolt", index))
        sheet.offer(_("Another here"), partial(self._ask_new, place))
        sheet.offer(_("Not there"), partial(self._state_bolts, _without(self._bolts, index)))
        sheet.open()

    def _ask_one_cable(self, index: int, place: Place) -> None:
        it = self._cables[index]
        sheet = KeySheet(_("This cable"), _where(it.x_m, it.y_m))
        length = "" if it.length_m is None else f"{it.length_m} m"
        tension = "" if it.tension_kn is None else f"{it.tension_kn} kN"
        sheet.offer(_("Length"), partial(self._ask_cable, "length_m", index), length)
        sheet.offer(_("Tension"), partial(self._ask_cable, "tension_kn", index), tension)
        sheet.offer(_("Taped place"), partial(self._ask_x, "cable", index))
        sheet.offer(_("Another here"), partial(self._ask_new, place))
        sheet.offer(_("Not there"), partial(self._state_cables, _without(self._cables, index)))
        sheet.open()

    def _ask_crown(self) -> None:
        question = _("How much higher is its back in the middle than at the edge?")
        self._shell.ask_number(question, self._take_crown, unit="m", largest=HIGHEST_M)

    def _take_crown(self, typed: str) -> None:
        self._state(crown_m=Decimal(typed))

    def _ask_bolts(self) -> None:
        """Ask how many there are; what is demanded is not shown before it is counted."""
        self._count(_("How many bolts are there?"), self._take_bolts)

    def _take_bolts(self, typed: str) -> None:
        said, demanded = int(typed), len(self._page.demanded)
        if said != demanded:
            self._tell(_("{n} were counted, and the pattern has another number.").format(n=said))
        self._state_bolts(self._page.demanded)

    def _ask_plates(self) -> None:
        self._count(_("How many plates are seated?"), self._take_plates)

    def _take_plates(self, typed: str) -> None:
        if int(typed) != len(self._bolts):
            self._tell(_("{n} were counted, and another number is marked.").format(n=int(typed)))
            return
        self._state_bolts([it.model_copy(update={"plate": "seated"}) for it in self._bolts])

    def _count(self, question: str, then: Callable[[str], None]) -> None:
        self._shell.ask_number(question, then, decimals=0, smallest="0", largest=MOST)

    def _tell(self, said: str) -> None:
        note = _("Touch on the plan which is missing or stands elsewhere, and each plate.")
        KeySheet(said, note).open()

    def _ask_anew(self) -> None:
        note = _("Places that were taped and plates that were looked at are asked once more.")
        sheet = KeySheet(_("Mark all bolts anew?"), note)
        sheet.offer(_("Mark them anew"), partial(self._state_bolts, ()), role="grave")
        sheet.open()

    def _add_bolt(self, x: Decimal, y: Decimal, plate: Any) -> None:
        self._state_bolts((*self._bolts, PlanBolt(x_m=x, y_m=y, plate=plate)))

    def _add_cable(self, x: Decimal, y: Decimal) -> None:
        self._state_cables((*self._cables, PlanCable(x_m=x, y_m=y)))

    def _change_bolt(self, index: int, said: dict[str, Any]) -> None:
        self._state_bolts(_changed(self._bolts, index, said))

    def _ask_cable(self, what: str, index: int | None) -> None:
        asked = {
            "length_m": (_("How long is it?"), "m", "60"),
            "tension_kn": (_("How tight is it?"), "kN", "1000"),
        }
        question, unit, largest = asked[what]
        then = partial(self._take_cable, what, index)
        self._shell.ask_number(question, then, unit=unit, largest=largest)

    def _take_cable(self, what: str, index: int | None, typed: str) -> None:
        meant = range(len(self._cables)) if index is None else (index,)
        cables = self._cables
        for it in meant:
            cables = _changed(cables, it, {what: Decimal(typed)})
        self._state_cables(cables)

    def _ask_batch(self) -> None:
        LettersPanel(_("Grout batch"), self._take_batch, longest=20).open()

    def _take_batch(self, typed: str) -> None:
        self._state_cables([it.model_copy(update={"batch": typed}) for it in self._cables])

    def _ask_x(self, what: str, index: int) -> None:
        self._shell.ask_number(
            _("How far inbye of where it opens? Outbye is negative."),
            partial(self._ask_y, what, index),
            unit="m",
            signed=True,
            largest=FARTHEST_M,
            smallest=f"-{FARTHEST_M}",
        )

    def _ask_y(self, what: str, index: int, x: str) -> None:
        self._shell.ask_number(
            _("How far right of the centre line? Left is negative."),
            partial(self._take_place, what, index, x),
            unit="m",
            signed=True,
            largest=FARTHEST_M,
            smallest=f"-{FARTHEST_M}",
        )

    def _take_place(self, what: str, index: int, x: str, y: str) -> None:
        said = {"x_m": Decimal(x), "y_m": Decimal(y), "method": "tape"}
        if what == "bolt":
            self._change_bolt(index, said)
        else:
            self._state_cables(_changed(self._cables, index, said))

    def _state_bolts(self, bolts: Sequence[PlanBolt]) -> None:
        self._state(bolts=bolts)

    def _state_cables(self, cables: Sequence[PlanCable]) -> None:
        self._state(cables=cables)

    def _state(self, **seen: Any) -> None:
        shell, known = self._shell, self._page.known
        job = partial(record_support, shell.site, known.id, shell.session, **seen)
        shell.do(job, then=lambda _known: self._then())


def _where(x_m: Decimal, y_m: Decimal) -> str:
    x_m, y_m = rounded(x_m, SAID_M), rounded(y_m, SAID_M)
    side = _("left") if y_m < 0 else _("right")
    along = _("outbye") if x_m < 0 else _("inbye")
    said = _("{x} m {along} of where it opens, {y} m {side} of the centre line")
    return said.format(x=abs(x_m), along=along, y=abs(y_m), side=side)


def _nearest(stood: Sequence[Corner], place: Place) -> tuple[float, int]:
    x, y = place
    each = (
        (((float(it.x_m) - x) ** 2 + (float(it.y_m) - y) ** 2) ** 0.5, index)
        for index, it in enumerate(stood)
    )
    return min(each, default=(float("inf"), -1))


def _changed(stood: Sequence[Any], index: int, said: dict[str, Any]) -> tuple[Any, ...]:
    changed = stood[index].model_copy(update=said)
    return (*stood[:index], changed, *stood[index + 1 :])


def _without(stood: Sequence[Any], index: int) -> tuple[Any, ...]:
    return (*stood[:index], *stood[index + 1 :])
