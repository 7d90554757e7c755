"""The steps of an intersection's cables by touch: counted, signed for, or refused."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final

from fieldapp.ui.intersection.page import IntersectionPage
from fieldapp.ui.panels.letters_panel import LettersPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.intersection.steps import plate, put_in, refuse
from schemas.bodies.intersection import CableStep

STEPS: Final[dict[CableStep, tuple[str, str]]] = {
    "drilled": (_("Drilled"), ""),
    "grouted": (_("Grouted"), _("they cure from then on")),
    "plated": (_("Plated"), _("signed")),
}
REASONS: Final = (
    _("a cable is missing"),
    _("a plate is loose"),
    _("the grout is not full"),
    _("a strand has slipped"),
)
LONGEST: Final = 80


class Plating:
    """Asks what was done of the cables, and states it; `then` is called once it is stated."""

    def __init__(self, shell: Any, page: IntersectionPage, then: Callable[[], None]) -> None:
        self._shell, self._page, self._then = shell, page, then

    def ask(self) -> None:
        """Ask which step was done, or whether they are refused."""
        sheet = KeySheet(_("The cables: what was done?"), self._page.subtitle)
        sheet.offer(_("Refuse them"), self._ask_why, _("they don't count so"))
        for step, (label, note) in STEPS.items():
            role = "main" if step == self._next else "ordinary"
            sheet.offer(label, partial(self._ask_count, step), note, role=role)
        sheet.open()

    # --- inside -------------------------------------------------------------------------------

    @property
    def _next(self) -> CableStep:
        """The step that comes next: the same once more while some are left to do."""
        body, steps = self._page.known.body, tuple(STEPS)
        if body.step == "planned":
            return "drilled"
        done = steps.index(body.step)
        return steps[min(done + (body.count >= body.cables), len(steps) - 1)]

    def _ask_count(self, step: CableStep) -> None:
        planned = self._page.known.body.cables
        self._shell.ask_number(
            _("How many are {step} in all by now?").format(step=_(step)),
            partial(self._take_count, step),
            decimals=0,
            smallest="1",
            largest=f"{planned}",
            limit=_("{n} are planned").format(n=planned),
        )

    def _take_count(self, step: CableStep, typed: str) -> None:
        shell, count = self._shell, int(typed)
        if step == "plated":
            question = _("Sign that {n} cables are plated").format(n=count)
            shell.ask_code(question, partial(self._sign, count), shell.code_digits)
            return
        job = partial(put_in, shell.site, self._thing, shell.session, step, count, shell.now())
        shell.do(job, then=self._stated)

    def _sign(self, count: int, code: str) -> None:
        shell = self._shell
        shell.do(
            partial(plate, shell.site, self._thing, shell.session, code, count, shell.now()),
            then=self._stated,
            on_trouble=lambda it: shell.say_of_code(it, partial(self._ask_count, "plated")),
        )

    def _ask_why(self) -> None:
        note = _("Entry stays restricted until they were put right and somebody signs.")
        sheet = KeySheet(_("Why don't they count?"), note)
        for it in REASONS:
            sheet.offer(it, partial(self._refuse, it))
        sheet.offer(_("In words"), self._ask_words)
        sheet.open()

    def _ask_words(self) -> None:
        LettersPanel(_("Why don't they count?"), self._refuse, longest=LONGEST).open()

    def _refuse(self, because: str) -> None:
        shell = self._shell
        shell.do(
            partial(refuse, shell.site, self._thing, shell.session, because), then=self._stated
        )

    @property
    def _thing(self) -> str:
        return self._page.known.id

    def _stated(self, _known: Any) -> None:
        self._then()
