"""A new intersection by touch: where, its form, its class and cable, and how many."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import Any, Final

from fieldapp.assess.intersections.outlines import SHAPES, Shape, outline_m
from fieldapp.ui.board_words import board_now
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.intersection.steps import add_intersection
from fieldapp.work.standard_in_force import in_force
from schemas.bodies.intersection import Corner, Intersection
from schemas.bodies.round import Method
from schemas.numbers import STEP_M, rounded
from schemas.standard import Standard, SupportClass

FORMS: Final[dict[Shape, str]] = {
    "turnout left": _("Turnout to the left"),
    "turnout right": _("Turnout to the right"),
    "cross": _("Cross"),
    "widening": _("Widening"),
}
METHODS: Final[dict[Method, str]] = {
    "tape": _("By tape"),
    "laser": _("By laser"),
    "paced": _("Paced"),
    "assumed": _("As designed"),
}
WIDEST_M: Final = "30"
MOST: Final = "500"


@dataclass(frozen=True)
class _Said:
    """What was answered so far."""

    heading_id: str = ""
    from_m: Decimal = Decimal(0)
    shape: Shape = "widening"
    width_m: Decimal = Decimal(0)
    other_m: Decimal = Decimal(0)
    method: Method = "assumed"


class NewIntersection:
    """Asks one thing after another; `then` is told once it is stated."""

    def __init__(self, shell: Any, then: Callable[[Any], None]) -> None:
        self._shell, self._then, self._said = shell, then, _Said()

    def ask(self) -> None:
        """Ask in which heading it is."""
        shell = self._shell
        shell.do(partial(board_now, shell.site, shell.now()), then=self._ask_where)

    def _ask_where(self, board: Any) -> None:
        HeadingPanel(_("An intersection: in which heading?"), board.lines, self._ask_place).open()

    def _ask_place(self, line: Any) -> None:
        self._said = replace(self._said, heading_id=line.heading_id)
        self._number(_("At which chainage does it open?"), self._ask_form, "99999")

    def _ask_form(self, typed: str) -> None:
        self._said = replace(self._said, from_m=Decimal(typed))
        sheet = KeySheet(_("Which form has it?"), _("Another form: lastrow intersection add."))
        for shape in SHAPES:
            sheet.offer(FORMS[shape], partial(self._ask_width, shape))
        sheet.open()

    def _ask_width(self, shape: Shape) -> None:
        self._said = replace(self._said, shape=shape)
        self._number(_("How wide is the heading there?"), self._ask_other, WIDEST_M)

    def _ask_other(self, typed: str) -> None:
        self._said = replace(self._said, width_m=Decimal(typed))
        question = _("How wide is the other drive?")
        if self._said.shape == "widening":
            question = _("How long is the widening?")
        self._number(question, self._ask_method, WIDEST_M)

    def _ask_method(self, typed: str) -> None:
        self._said = replace(self._said, other_m=Decimal(typed))
        sheet = KeySheet(_("How was that read?"))
        for method, label in METHODS.items():
            sheet.offer(label, partial(self._ask_class, method))
        sheet.open()

    def _ask_class(self, method: Method) -> None:
        self._said = replace(self._said, method=method)
        site = self._shell.site
        look = partial(in_force, site, site.now())
        self._shell.do(lambda: look().body, then=self._offer_classes)

    def _offer_classes(self, standard: Standard) -> None:
        stated = [it for it in standard.classes if it.intersection is not None]
        sheet = KeySheet(_("By the pattern of which class?"), holds_sentences=True)
        for it in stated or standard.classes:
            sheet.offer(it.code, partial(self._offer_cables, it), it.title)
        sheet.open()

    def _offer_cables(self, demanded: SupportClass) -> None:
        if len(demanded.bolts) == 1:
            self._ask_count(demanded, demanded.bolts[0].code)
            return
        sheet = KeySheet(_("Its long bolt or cable?"), holds_sentences=True)
        for it in demanded.bolts:
            sheet.offer(it.code, partial(self._ask_count, demanded, it.code), it.name)
        sheet.open()

    def _ask_count(self, demanded: SupportClass, cable: str) -> None:
        rule = demanded.intersection.cables if demanded.intersection else None
        least = rule.at_least if rule else None
        self._shell.ask_number(
            _("How many cables are planned?"),
            partial(self._state, demanded.code, cable),
            decimals=0,
            smallest="1",
            largest=MOST,
            limit="" if least is None else _("at least {n}").format(n=least),
        )

    def _state(self, support_class: str, cable: str, typed: str) -> None:
        said, shell = self._said, self._shell
        corners = outline_m(said.shape, float(said.width_m), float(said.other_m))
        body = Intersection(
            heading=said.heading_id,
            from_m=said.from_m,
            to_m=said.from_m + said.other_m,
            corners=tuple(Corner(x_m=_metres(x), y_m=_metres(y)) for x, y in corners),
            corners_method=said.method,
            support_class=support_class,
            cable=cable,
            cables=int(typed),
            step="planned",
            at=shell.now(),
        )
        shell.do(partial(add_intersection, shell.site, body, shell.session), then=self._then)

    def _number(self, question: str, then: Callable[[str], None], largest: str) -> None:
        smallest = "0" if largest == "99999" else "0.5"
        self._shell.ask_number(question, then, unit="m", smallest=smallest, largest=largest)


def _metres(value: float) -> Decimal:
    return rounded(value, STEP_M)
