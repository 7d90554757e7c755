"""What is asked before a repair begins: each answer on a key, the last one states it."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from fieldapp.report.words.damage import HOLDS
from fieldapp.report.words.lengths import chainage_words, span_words
from fieldapp.ui.rehab_work import PLAN, may
from fieldapp.ui.repair.finishing import Finishing
from fieldapp.ui.repair.repair_step import RepairStep
from fieldapp.ui.repair.verifying import Verifying
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.damage.stating import DamageKnown, decide_priority
from fieldapp.work.rehab.rehab_list import not_planned
from fieldapp.work.rehab.steps import plan, plan_of, propose, start
from fieldapp.work.rehab.words import DECIDED, ORDERS
from schemas.bodies.damage import DecidedPriority
from schemas.bodies.rehab import Barricade

MOST_FURTHER = 5
"""The nearest ones: keys for more would find no room."""
Chosen = tuple[DamageKnown, ...]


class Repairing(RepairStep):
    """The first steps of a repair, and the way to each later one."""

    def ask(self, act: str) -> None:
        """Ask what this step needs."""
        verifying = Verifying(self._shell, self._line)
        asked: dict[str, Callable[[], None]] = {
            "propose": self._plan,
            "plan": self._plan,
            "decide": self._decide,
            "begin": self._begin,
            "done": Finishing(self._shell, self._line).ask,
            "verify": verifying.ask,
            "refuse": verifying.ask_why_not,
            "reopen": verifying.ask_why_reopened,
        }
        asked[act]()

    def _plan(self) -> None:
        """Ask first which damage is repaired together, where more waits in the heading."""
        shell, row = self._shell, self._line.row
        damage, *further = row.damages
        if row.rehab is not None:  # whoever proposed it said so
            self._ask_order(tuple(further))
            return
        look = partial(not_planned, shell.site, damage, shell.now())
        shell.do(look, then=partial(self._ask_further, ()))

    def _ask_further(self, chosen: Chosen, left: Chosen) -> None:
        if not left:
            self._ask_order(chosen)
            return
        title = _("Is other damage repaired together with it?")
        sheet = KeySheet(title, _("The barrier stands about all of it until it is verified."))
        enough = _("These are all") if chosen else _("This one alone")
        sheet.offer(enough, partial(self._ask_order, chosen), self._where(chosen), role="main")
        for it in left[:MOST_FURTHER]:
            rest = tuple(one for one in left if one is not it)
            more = partial(self._ask_further, (*chosen, it), rest)
            sheet.offer(_(it.newest.kind), more, self._at(it))
        sheet.open()

    def _where(self, chosen: Chosen) -> str:
        """Say how far the repair reaches with what was chosen."""
        every = plan_of(self._line.row.damages[0], further=chosen)
        units = self._shell.site.settings.units
        return span_words(every.from_m, every.to_m, units, " – ") if chosen else ""

    def _at(self, damage: DamageKnown) -> str:
        """Say where other damage is, and how far from this: the barrier stands about both."""
        units = self._shell.site.settings.units
        far_m = abs(damage.from_m - self._line.row.damages[0].from_m)
        at, far = (chainage_words(it, units) for it in (damage.from_m, far_m))
        return _("{place}, {far} away").format(place=at, far=far)

    def _ask_order(self, further: Chosen) -> None:
        """Ask for the order of work; of what was proposed that stands first, as it was put."""
        decides = may(PLAN, self._shell.session)
        proposed = self._line.order_of_work
        title = _("Plan the repair: in which order?")
        note = _("What was proposed stands first.") if proposed else self._line.title
        if not decides:
            title = _("Propose the repair: in which order?")
            note = _("The geotechnical engineer decides on it. Nothing is begun before that.")
        sheet = KeySheet(title, note, holds_sentences=True)
        for words in dict.fromkeys(filter(None, (proposed, *ORDERS))):
            role = "main" if words == proposed else "ordinary"
            sheet.offer(_(words), partial(self._planned, further, words), role=role)
        sheet.open()

    def _planned(self, further: Chosen, words: str) -> None:
        shell, damage = self._shell, self._line.row.damages[0]
        act = plan if may(PLAN, shell.session) else propose
        self._do(lambda: act(shell.site, plan_of(damage, words, further), shell.session))

    def _decide(self) -> None:
        note = _(
            "In place of the standard's table. Holes and bagging keep people out all the same."
        )
        sheet = KeySheet(_("Decide: how soon is it repaired?"), note)
        for step in self._line.priorities:
            beneath = _(HOLDS[step.holds or "restricted"])
            days = counted("in {} day", "in {} days", step.due_days)
            soon = days if step.due_days else _("at once")
            sheet.offer(step.code, partial(self._ask_why, step.code), f"{soon}, {beneath}")
        sheet.open()

    def _ask_why(self, code: str) -> None:
        shell, damage_id = self._shell, self._line.row.id
        sheet = KeySheet(_("{code}: why?").format(code=code), self._line.title)
        for because in DECIDED:
            decided = DecidedPriority(priority=code, because=because)
            step = partial(decide_priority, shell.site, damage_id, decided, shell.session)
            sheet.offer(_(because), partial(self._do, step))
        sheet.open()

    def _begin(self) -> None:
        note = _("The stretch is barricaded from now on, until somebody else has verified it.")
        sheet = KeySheet(_("Who put up the barrier?"), note)
        names = (*self._shell.site.settings.crews, self._shell.session.name)
        for who in dict.fromkeys(names):
            sheet.offer(who, partial(self._ask_where, who))
        sheet.open()

    def _ask_where(self, who: str) -> None:
        from_m = self._line.row.from_m
        self._ask_metres(
            _("At which chainage does the barrier stand?"),
            lambda at_m: self._begun(who, at_m),
            _("the repair begins at {from_m} m").format(from_m=from_m),
            str(from_m),
        )

    def _begun(self, who: str, at_m: Decimal) -> None:
        shell, rehab_id = self._shell, self._rehab_id
        barricade = Barricade(who=who, where=f"{at_m} m", at_m=at_m)
        step = partial(start, shell.site, rehab_id, shell.session)
        self._do(lambda: step(barricade=barricade, crew=who))
