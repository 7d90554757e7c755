"""Every command, in the order of `lastrow --help`. A new one: its function, one line here."""

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Final

import typer

from fieldapp.cli import (
    assess,
    backup,
    batch,
    board,
    bolt_test,
    bolt_test_correct,
    bolt_test_told,
    bolt_tests,
    collate,
    damage,
    demo,
    disputes,
    enrol,
    event,
    export,
    find,
    frame,
    heading,
    intersection,
    intersection_right,
    intersection_seen,
    label,
    looked_into,
    measure,
    mine,
    office,
    overbreak,
    pair,
    peg,
    person,
    record,
    rehab,
    report,
    schema,
    selfcheck,
    share,
    standard,
    take_off,
    target,
    trends,
    verify,
    walk,
    walk_record,
    withdraw,
)
from fieldapp.cli.door import Door, NoScreen, Portrait, door_of

Command = tuple[str, Callable[..., int]]

COMMANDS: Final[tuple[Command, ...]] = (
    ("demo", demo.demo),
    ("assess", assess.assess),
    ("frame", frame.frame),
    ("measure", measure.measure),
    ("target", target.target),
    ("board", board.board),
    ("record", record.record),
    ("overbreak", overbreak.overbreak),
    ("event", event.event),
    ("looked-into", looked_into.looked_into),
    ("sheet", board.sheet),
    ("handover", board.handover),
    ("verify", verify.verify),
    ("label", label.label),
    ("find", find.find),
    ("trends", trends.trends),
    ("take-off", take_off.take_off),
    ("withdraw", withdraw.withdraw),
    ("share", share.share),
    ("collate", collate.collate),
    ("disputes", disputes.disputes),
    ("export", export.export),
    ("backup", backup.backup),
    ("restore", backup.restore),
    ("selfcheck", selfcheck.selfcheck),
    ("schema", schema.schema),
)
GROUPS: Final[tuple[tuple[str, str, tuple[Command, ...]], ...]] = (
    ("mine", "Start a real mine on this tablet.", (("start", mine.start),)),
    (
        "person",
        "Enrol people, give them sign codes, end an enrolment.",
        (
            ("add", person.add),
            ("list", person.people),
            ("reset-code", person.reset_code),
            ("revoke", person.revoke),
        ),
    ),
    (
        "office",
        "Make a site's shared folder on the office machine.",
        (("start", office.start),),
    ),
    (
        "pair",
        "Let a new tablet belong to a site: its request, and the office's answer.",
        (("ask", pair.ask), ("take", pair.take)),
    ),
    (
        "enrol",
        "Sign tablets and people in the office, and end it.",
        (
            ("tablet", enrol.tablet),
            ("person", enrol.person),
            ("list", enrol.listed),
            ("revoke-tablet", enrol.revoke_tablet),
            ("renew", enrol.renew),
            ("settle", enrol.settle),
        ),
    ),
    (
        "standard",
        "Read a support standard in plain words, and put it in force.",
        (("check", standard.check), ("compare", standard.compare), ("adopt", standard.adopt)),
    ),
    (
        "heading",
        "Enter headings, their surveyed lines, and what a re-survey made of their chainages.",
        (
            ("add", heading.add),
            ("import", heading.import_list),
            ("survey", heading.survey),
            ("rechain", heading.rechain),
        ),
    ),
    (
        "peg",
        "Enter survey pegs, from which places are taped.",
        (("add", peg.add), ("list", peg.pegs)),
    ),
    (
        "walk",
        "Condition walks: what is due, what was walked, and what is known of each section.",
        (
            ("plan", walk.plan),
            ("show", walk.show),
            ("record", walk_record.record),
            ("list", walk_record.walks),
        ),
    ),
    (
        "damage",
        "State damage to support that stands, and see how soon it is repaired.",
        (
            ("add", damage.add),
            ("list", damage.damages),
            ("show", damage.show),
            ("decide", damage.decide),
        ),
    ),
    (
        "rehab",
        "Repairs: what is to be done first, and each from the plan to its verification.",
        (
            ("list", rehab.rehabs),
            ("propose", rehab.propose),
            ("plan", rehab.plan),
            ("start", rehab.begin),
            ("done", rehab.done),
            ("verify", rehab.verify),
            ("refuse", rehab.refuse),
            ("reopen", rehab.reopen),
        ),
    ),
    (
        "intersection",
        "Junctions: what they span, and their cables drilled, grouted and plated over days.",
        (
            ("add", intersection.add),
            ("drilled", intersection.drilled),
            ("grouted", intersection.grouted),
            ("plated", intersection.plated),
            ("bolts", intersection_seen.bolts),
            ("cables", intersection_seen.cables),
            ("crown", intersection_seen.crown),
            ("refused", intersection_right.refused),
            ("opened", intersection_seen.opened),
            ("correct", intersection_right.correct),
            ("show", intersection_seen.show),
            ("list", intersection.intersections),
        ),
    ),
    (
        "bolt-test",
        "Tests of support: bolts pulled or turned again, cores, and which are due.",
        (
            ("record", bolt_test.record),
            ("correct", bolt_test_correct.correct),
            ("due", bolt_tests.due),
            ("list", bolt_tests.made),
            ("show", bolt_tests.show),
            ("summary", bolt_tests.summary),
            ("told", bolt_test_told.told),
        ),
    ),
    (
        "report",
        "Write what was recorded for paper, spreadsheet and plan, from a tablet or an office.",
        (
            ("round", report.round_),
            ("month", report.month),
            ("rehab", report.rehab),
            ("heading", report.heading),
        ),
    ),
    (
        "batch",
        "Enter batches of bolts, resin and mesh, put one in doubt, and decide on it.",
        (
            ("add", batch.add),
            ("list", batch.batches),
            ("doubt", batch.doubt),
            ("clear", batch.clear),
            ("keep", batch.keep),
        ),
    ),
)


WIDEST_HELP: Final = 100


def lastrow(
    ctx: typer.Context,
    *,
    home: Annotated[
        Path | None, typer.Option("--home", metavar="DIR", help="Folder of this tablet's records.")
    ] = None,
    debug: Annotated[
        bool, typer.Option("--debug", help="Show where a trouble came from.")
    ] = False,
    portrait: Portrait = False,
) -> int | None:
    """Compare, round by round, ground support as it was seen with what the standard demands.

    Without a command it opens the app. Example: lastrow
    """
    door = door_of(ctx)
    door.home = home
    door.debug = debug
    door.portrait = portrait
    if ctx.invoked_subcommand is not None:
        return None
    return _opened(door, portrait=portrait)


def _opened(door: Door, *, portrait: bool) -> int:
    from fieldapp.start import has_screen

    home = door.home_folder(None)
    if door.open_app is None or not has_screen():
        raise NoScreen(str(home))
    return door.open_app(home, portrait=portrait)


def _app() -> typer.Typer:
    made = typer.Typer(
        add_completion=False,
        pretty_exceptions_enable=False,
        context_settings={"max_content_width": WIDEST_HELP},
        rich_markup_mode=None,
        invoke_without_command=True,
        callback=lastrow,
    )
    for name, command in COMMANDS:
        made.command(name)(command)
    for name, sentence, commands in GROUPS:
        group = typer.Typer(help=sentence, rich_markup_mode=None)
        for inner, command in commands:
            group.command(inner)(command)
        made.add_typer(group, name=name)
    return made


app: Final = _app()
