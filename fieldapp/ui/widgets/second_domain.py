"""Two ground domains in one round: which class, from where, which bolts, and who said so."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch, GroundChanges
from schemas.bodies.second_domain import SecondDomain
from schemas.standard import BoltType, SupportClass

TOLD_BY = (_("the plan"), _("the geotechnical engineer"), _("the shift supervisor"))
LONGEST_HEADING_M = "99999"


class GroundChange:
    """One change of ground on its way; the last answer keeps it."""

    def __init__(self, work: RoundWork, asker: Asker, keep: Callable[[AnyTouch], None]) -> None:
        self._work = work
        self._asker = asker
        self._keep = keep

    def ask(self) -> None:
        """Ask for the class past it."""
        sheet = KeySheet(
            _("The ground changes in this round. Which class past it?"),
            _("Rows past the change are judged by it; across it the stricter class governs."),
        )
        for known in self._work.standard.classes:
            if known.code != self._work.support_class.code:
                sheet.offer(known.code, partial(self._ask_where, known), known.title)
        sheet.open()

    def _ask_where(self, support_class: SupportClass) -> None:
        joint_m = self._work.seen.joint_m
        PadPanel(
            lambda typed: self._ask_bolts(support_class, Decimal(typed)),
            question=_("{code}: from which chainage?").format(code=support_class.code),
            unit="m",
            limit=_("the joint is at {joint} m").format(joint=joint_m),
            smallest=str(joint_m),
            largest=LONGEST_HEADING_M,
        ).open()

    def _ask_bolts(self, support_class: SupportClass, from_m: Decimal) -> None:
        sheet = KeySheet(_("Which bolts went in past {from_m} m?").format(from_m=from_m))
        for bolt in support_class.bolts:
            then = partial(self._ask_who, support_class, from_m, bolt)
            sheet.offer(bolt.code, then, f"{bolt.length_m} m")
        sheet.open()

    def _ask_who(self, support_class: SupportClass, from_m: Decimal, bolt: BoltType) -> None:
        sheet = KeySheet(_("Who said that the ground changes there?"))
        for told_by in TOLD_BY:
            second = SecondDomain(
                from_m=from_m,
                support_class=support_class.code,
                told_by=told_by,
                bolt_type=bolt.code,
                bolt_length_m=bolt.length_m,
            )
            touch = GroundChanges(at=self._asker.at, by=self._asker.by, second=second)
            sheet.offer(_(told_by), partial(self._keep, touch))
        sheet.open()
