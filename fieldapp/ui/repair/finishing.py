"""What a crew says of its work: what was done, with what, how much of it, and a photo of it."""

from dataclasses import replace
from decimal import Decimal
from functools import partial
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import when, when_from
from fieldapp.ui.repair.repair_step import RepairStep
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.photo.before import there_by
from fieldapp.work.rehab.revisions import rehab_known
from fieldapp.work.rehab.steps import Done, finish
from fieldapp.work.rehab.verified import OF_MESH, Proof, proof_of
from fieldapp.work.rehab.words import CLOCK_WRONG, MATERIALS, NO_PHOTO
from fieldapp.work.site import Site
from schemas.bodies.rehab import Outcome

OUTCOMES: tuple[tuple[Outcome, str, str], ...] = (
    ("restored", _("Restored"), _("it counts as support again")),
    ("patched", _("Patched"), _("the hole is closed, to be restored")),
)
MOST_BOLTS = "2000"


class Finishing(RepairStep):
    """Asks a crew until a repair can be said to be done."""

    def ask(self) -> None:
        """Ask what was done."""
        sheet = KeySheet(_("What was done?"), self._line.title)
        for outcome, label, note in OUTCOMES:
            sheet.offer(label, partial(self._ask_laps, Done(outcome)), note)
        sheet.open()

    def _ask_laps(self, done: Done) -> None:
        kinds = {seen.damage.kind for it in self._line.row.damages for seen in it.damage.seen}
        if not kinds & set(OF_MESH):
            self._ask_bolts(done)
            return
        sheet = self._laps_sheet(lambda laps: self._ask_bolts(replace(done, lap_openings=laps)))
        sheet.note += " " + _("Not known: somebody measures it before it is verified.")
        unknown = partial(self._ask_bolts, done)
        sheet.offer("?", unknown, _("not known"))
        sheet.open()

    def _ask_bolts(self, done: Done) -> None:
        self._shell.ask_number(
            _("How many bolts were added?"),
            lambda typed: self._ask_materials(replace(done, bolts_added=int(Decimal(typed)))),
            limit=_("0 where none was"),
            largest=MOST_BOLTS,
            decimals=0,
        )

    def _ask_materials(self, done: Done) -> None:
        chosen = done.materials
        sheet = KeySheet(_("What else was put in?"), ", ".join(_(it) for it in chosen))
        enough = _("That is all") if chosen else _("Nothing else")
        sheet.offer(enough, partial(self._ask_part, done), role="main")
        for it in MATERIALS:
            if it in chosen:
                less = replace(done, materials=tuple(one for one in chosen if one != it))
                taken = _("put in: touch takes it off")
                sheet.offer(_(it), partial(self._ask_materials, less), taken)
            else:
                more = replace(done, materials=(*chosen, it))
                sheet.offer(_(it), partial(self._ask_materials, more))
        sheet.open()

    def _ask_part(self, done: Done) -> None:
        sheet = KeySheet(_("Was all of it done?"), self._line.title)
        sheet.offer(_("All of it"), partial(self._look_for_photos, done))
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
            lambda to_m: self._look_for_photos(replace(done, part=(from_m, to_m))),
            _("of {from_m} to {to_m} m").format(from_m=row.from_m, to_m=row.to_m),
            str(row.to_m),
        )

    def _look_for_photos(self, done: Done) -> None:
        look = partial(_proof, self._shell.site, self._rehab_id)
        self._shell.do(look, then=partial(self._ask_photo, done))

    def _ask_photo(self, done: Done, proof: Proof) -> None:
        """Ask for a photo of what was done; go on with what there is, or say why there is none."""
        note = _("Nobody verifies a repair without one.")
        sheet = KeySheet(_("A photo of what was done?"), self._told_of(proof) or note)
        again = partial(self._photos, partial(self._look_for_photos, done))
        if proof.shows:
            kept = counted("{} photo is kept", "{} photos are kept", len(proof.shows))
            sheet.offer(_("Go on"), partial(self._finished, done), kept, role="main")
            sheet.offer(_("More photos"), again)
        else:
            sheet.offer(_("Take a photo"), again, _("or choose a file"), role="main")
            for because in CLOCK_WRONG if proof.older else ():
                shows = partial(self._finished, replace(done, older_photo_because=because))
                sheet.offer(_("It shows the work"), shows, _(because))
            for because in NO_PHOTO:
                why = partial(self._finished, replace(done, no_photo_because=because))
                sheet.offer(_("None"), why, _(because))
        sheet.open()

    def _told_of(self, proof: Proof) -> str:
        """Say that a photo is from before the work was begun; nothing where none is."""
        begun = self._line.row.rehab.started_at if self._line.row.rehab else None
        if not proof.older or begun is None:
            return ""
        zone = ZoneInfo(self._shell.site.settings.zone)
        words = _(
            "A photo of {taken} is older than the work, begun {begun}: it is no proof of it."
        )
        return words.format(
            taken=when_from(there_by(proof.older[-1]), begun.astimezone(zone)),
            begun=when(begun, zone),
        )

    def _finished(self, done: Done) -> None:
        shell, rehab_id = self._shell, self._rehab_id
        self._do(lambda: finish(shell.site, rehab_id, shell.session, done))


def _proof(site: Site, rehab_id: str) -> Proof:
    return proof_of(site, rehab_id, rehab_known(site, rehab_id).body)
