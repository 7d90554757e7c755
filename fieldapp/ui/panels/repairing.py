"""What is asked before a repair goes on: each answer on a key, the last one states it."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.report.damage_words import HOLDS
from fieldapp.report.lengths import chainage_words, span_words
from fieldapp.ui.rehab_work import RehabLine
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.damage import DamageKnown, decide_priority
from fieldapp.work.rehab import Done, finish, plan, plan_of, start
from fieldapp.work.rehab_list import not_planned
from fieldapp.work.rehab_verified import OF_MESH, refuse, reopen, verify
from schemas.bodies.damage import DecidedPriority
from schemas.bodies.rehab import Barricade, Outcome

ORDERS = (
    _("bar down from supported ground, patch with a sheet, plate it all round"),
    _("let the bag down at its lowest corner from supported ground, bar down, mesh anew"),
    _("bolt beside what is broken, then plate"),
    _("bar down what is drummy, mesh, spray again"),
    _("as the engineer says at the place"),
)
REASONS = (
    _("a plate is loose"),
    _("the lap is short"),
    _("a bolt is missing"),
    _("broken rock hangs in it"),
    _("not where the damage is"),
)
DECIDED = (
    _("looked at it: graver than the card says"),
    _("looked at it: the rock behind is sound"),
    _("people no longer go there"),
    _("more people go there by now"),
)
OUTCOMES: tuple[tuple[Outcome, str, str], ...] = (
    ("restored", _("Restored"), _("it counts as support again")),
    ("patched", _("Patched"), _("the hole is closed, to be restored")),
)
LAPS = (1, 2, 3, 4)
MOST_FURTHER = 5
"""The nearest ones: keys for more would find no room."""
Chosen = tuple[DamageKnown, ...]
MOST_BOLTS = "2000"


class Repairing:
    """One step of a repair on its way. Nothing is stated before the last answer."""

    def __init__(self, shell: Any, line: RehabLine) -> None:
        self._shell, self._line = shell, line

    def ask(self, act: str) -> None:
        """Ask what this step needs."""
        asked: dict[str, Callable[[], None]] = {
            "plan": self._plan,
            "decide": self._decide,
            "begin": self._begin,
            "done": self._done,
            "verify": self._verify,
            "refuse": partial(self._because, _("Refuse it: why?"), refuse),
            "reopen": partial(self._because, _("It does not hold: why?"), reopen),
        }
        asked[act]()

    def _plan(self) -> None:
        """Ask first which damage is repaired together, where more waits in the heading."""
        shell, damage = self._shell, self._line.row.damages[0]
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
        return chainage_words(damage.from_m, self._shell.site.settings.units)

    def _ask_order(self, further: Chosen) -> None:
        title = _("Plan the repair: in which order?")
        sheet = KeySheet(title, self._line.title, holds_sentences=True)
        for words in ORDERS:
            sheet.offer(words, partial(self._planned, further, words))
        sheet.open()

    def _planned(self, further: Chosen, words: str) -> None:
        shell, damage = self._shell, self._line.row.damages[0]
        self._do(lambda: plan(shell.site, plan_of(damage, words, further), shell.session))

    def _decide(self) -> None:
        note = _(
            "In place of the standard's table. Holes and bagging keep people out all the same."
        )
        sheet = KeySheet(_("Decide: how soon is it repaired?"), note)
        for step in self._line.priorities:
            beneath = _(HOLDS[step.holds or "restricted"])
            sheet.offer(step.code, partial(self._ask_why, step.code), beneath)
        sheet.open()

    def _ask_why(self, code: str) -> None:
        shell, damage_id = self._shell, self._line.row.id
        sheet = KeySheet(_("{code}: why?").format(code=code), self._line.title)
        for because in DECIDED:
            decided = DecidedPriority(priority=code, because=because)
            step = partial(decide_priority, shell.site, damage_id, decided, shell.session)
            sheet.offer(because, partial(self._do, step))
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
        shell, rehab_id = self._shell, self._line.row.id
        barricade = Barricade(who=who, where=f"{at_m} m", at_m=at_m)
        step = partial(start, shell.site, rehab_id, shell.session)
        self._do(lambda: step(barricade=barricade, crew=who))

    def _done(self) -> None:
        sheet = KeySheet(_("What was done?"), self._line.title)
        for outcome, label, note in OUTCOMES:
            sheet.offer(label, partial(self._ask_laps, outcome), note)
        sheet.open()

    def _ask_laps(self, outcome: Outcome) -> None:
        kinds = {seen.damage.kind for it in self._line.row.damages for seen in it.damage.seen}
        if not kinds & set(OF_MESH):
            self._ask_bolts(outcome, None)
            return
        sheet = KeySheet(
            _("How far does new mesh lap sound old mesh?"), _("At the least place, in openings.")
        )
        for openings in LAPS:
            sheet.offer(str(openings), partial(self._ask_bolts, outcome, openings))
        sheet.open()

    def _ask_bolts(self, outcome: Outcome, laps: int | None) -> None:
        self._shell.ask_number(
            _("How many bolts were added?"),
            lambda typed: self._ask_part(Done(outcome, int(Decimal(typed)), lap_openings=laps)),
            limit=_("0 where none was"),
            largest=MOST_BOLTS,
            decimals=0,
        )

    def _ask_part(self, done: Done) -> None:
        sheet = KeySheet(_("Was all of it done?"), self._line.title)
        sheet.offer(_("All of it"), partial(self._finished, done))
        sheet.offer(
            _("A part"), partial(self._ask_from, done), _("the rest is a repair of its own")
        )
        sheet.open()

    def _ask_from(self, done: Done) -> None:
        row = self._line.row
        self._ask_metres(
            _("Done from which chainage?"),
            lambda from_m: self._ask_to(done, from_m),
            _("of {from_m} to {to_m} m").format(from_m=row.from_m, to_m=row.to_m),
            str(row.to_m),
        )

    def _ask_to(self, done: Done, from_m: Decimal) -> None:
        row = self._line.row
        self._ask_metres(
            _("Done to which chainage?"),
            lambda to_m: self._finished(_of_part(done, from_m, to_m)),
            _("of {from_m} to {to_m} m").format(from_m=row.from_m, to_m=row.to_m),
            str(row.to_m),
        )

    def _finished(self, done: Done) -> None:
        shell, rehab_id = self._shell, self._line.row.id
        self._do(lambda: finish(shell.site, rehab_id, shell.session, done))

    def _verify(self) -> None:
        sheet = KeySheet(
            _("Verify it: you looked at all of it, from supported ground"),
            _("Nobody verifies what they did themselves."),
        )
        sheet.offer(_("Good, and the barrier is down"), self._ask_code)
        sheet.open()

    def _ask_code(self) -> None:
        shell = self._shell
        shell.ask_code(_("Your sign code verifies it"), self._verified, shell.code_digits)

    def _verified(self, code: str) -> None:
        shell, rehab_id = self._shell, self._line.row.id
        shell.do(
            lambda: verify(shell.site, rehab_id, shell.session, code, barrier_down=True),
            then=lambda _known: shell.refresh(),
            on_trouble=lambda trouble: shell.say_of_code(trouble, self._ask_code),
        )

    def _because(self, question: str, act: Callable[..., object]) -> None:
        shell, rehab_id = self._shell, self._line.row.id
        sheet = KeySheet(question, self._line.title)
        for because in REASONS:
            step = partial(act, shell.site, rehab_id, shell.session, because=because)
            sheet.offer(because, partial(self._do, step))
        sheet.open()

    def _ask_metres(
        self, question: str, then: Callable[[Decimal], None], limit: str, largest: str
    ) -> None:
        self._shell.ask_number(
            question, lambda typed: then(Decimal(typed)), unit="m", limit=limit, largest=largest
        )

    def _do(self, step: Callable[[], object]) -> None:
        self._shell.do(step, then=lambda _done: self._shell.refresh())


def _of_part(done: Done, from_m: Decimal, to_m: Decimal) -> Done:
    return Done(
        done.outcome, done.bolts_added, lap_openings=done.lap_openings, part=(from_m, to_m)
    )
