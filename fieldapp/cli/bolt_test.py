"""`lastrow bolt-test record`: a bolt pulled or turned again, or cores of shotcrete."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.bolt_tests import came_to
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import metres, one_of, stated
from schemas.trouble import BadInput

BoltType = Annotated[str | None, typer.Option(metavar="CODE", help="Bolt type of the standard.")]
Across = Annotated[
    str | None, typer.Option("--s", metavar="M", help="From the crown, left negative.")
]
Bolt = Annotated[str | None, typer.Option(metavar="ROW/NUMBER", help="Which bolt.")]
Pull = Annotated[
    list[str] | None, typer.Option(metavar="KN:MM[:S]", help="A reading; one after another.")
]
Held = Annotated[int | None, typer.Option(metavar="MIN", help="How long it was held.")]
Broke = Annotated[str | None, typer.Option(help="bar, thread, anchor slipped, plate or nothing.")]
Torque = Annotated[str | None, typer.Option(metavar="NM", help="Torque read.")]
Core = Annotated[
    list[str] | None, typer.Option(metavar="MPA", help="Strength of a core; one by one.")
]
Age = Annotated[int | None, typer.Option(metavar="DAYS", help="Of the shotcrete.")]
Rig = Annotated[str | None, typer.Option(help="Which pull rig or wrench.")]
Calibrated = Annotated[
    str | None, typer.Option(metavar="DATE", help="When it was last calibrated.")
]
Installed = Annotated[str | None, typer.Option(metavar="DATE", help="When the bolt was put in.")]
Batch = Annotated[str | None, typer.Option(help="Batch of the bolt.")]
Crew = Annotated[str | None, typer.Option(help="Which crew put it in.")]
AllTheSame = Annotated[bool, typer.Option("--all-the-same", help="Keep it though it is odd.")]


@dataclass(eq=False)
class NoReading(BadInput):
    """A reading of a pull was typed otherwise than load and displacement."""

    given: str

    happened = "“{given}” is no reading of a pull."
    kept = "Nothing was changed."
    do_next = "Give kN and mm, and seconds where they are known: 85:4.5 or 85:4.5:60."


@dataclass(eq=False)
class NoDay(BadInput):
    """A day was typed otherwise than as a date."""

    given: str

    happened = "“{given}” is no date."
    kept = "Nothing was changed."
    do_next = "Give it as 2031-05-06, or with a time as 2031-05-06T14:30."


def record(  # noqa: PLR0913 - what somebody reads of a test
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    kind: Annotated[
        str, typer.Argument(help="proof pull, destructive pull, torque, shotcrete cores")
    ],
    *,
    at: Annotated[str, typer.Option(metavar="M", help="Chainage, in metres.")],
    zone: Annotated[str, typer.Option(help="back, left shoulder, right wall, …")],
    who: As,
    bolt_type: BoltType = None,
    across: Across = None,
    bolt: Bolt = None,
    in_round: Annotated[
        int | None, typer.Option("--round", metavar="N", help="Number of its round.")
    ] = None,
    pull: Pull = None,
    held: Held = None,
    broke: Broke = None,
    torque: Torque = None,
    core: Core = None,
    age: Age = None,
    rig: Rig = None,
    calibrated: Calibrated = None,
    installed: Installed = None,
    batch: Batch = None,
    crew: Crew = None,
    why: Annotated[str, typer.Option(help="Why it was made.")] = "by the standard's share",
    after: Annotated[
        str | None, typer.Option(metavar="ID", help="The failed test that it follows.")
    ] = None,
    put_in_for_it: Annotated[
        bool, typer.Option("--put-in-for-it", help="The bolt is no part of the support.")
    ] = False,
    all_the_same: AllTheSame = False,
    note: str = "",
    home: Home = None,
) -> int:
    """State a test of support, and what follows from it by the standard.

    Example: lastrow bolt-test record "4180 Main" "proof pull" --at 590.4 --zone back
    --bolt-type RB24 --pull 0:0 --pull 85:4 --held 1 --calibrated 2031-04-01 --as Technician
    """
    from schemas.bodies.bolt_test import BoltTest, BoltTestKind, Why
    from schemas.bodies.damage import DamageZone

    with door_of(ctx).site(home) as site:
        from fieldapp.work.bolt_tests.recording import bolt_test, record_bolt_test
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.rounds import find_round

        local = ZoneInfo(site.settings.zone)
        place = heading_of(site, heading)
        named_round = f"{place.body.name} {in_round}"
        follows = bolt_test(site, after).id if after else None
        said: dict[str, Any] = {
            "heading": place.id,
            "kind": one_of(get_args(BoltTestKind), kind, "kind of test"),
            "tested_at": site.now().isoformat(),
            "why": "follows a failed test" if after else one_of(get_args(Why), why, "reason"),
            "chainage_m": f"{metres(at, 'chainage')}",
            "s_m": across,
            "zone": one_of(get_args(DamageZone), zone, "zone"),
            "bolt_type": bolt_type,
            "bolt": bolt,
            "round": find_round(site, named_round).id if in_round is not None else None,
            "installed_at": day(installed, local),
            "batch": batch,
            "crew": crew,
            "part_of_support": not put_in_for_it,
            "pulled": [reading(it) for it in pull or ()],
            "held_min": held,
            "broke": broke,
            "torque_nm": torque,
            "cores_mpa": core or (),
            "age_days": age,
            "rig": rig,
            "rig_checked_at": day(calibrated, local),
            "after": follows,
            "note": note,
        }
        body = stated(BoltTest, "the test", **said)
        kept = record_bolt_test(site, body, named(site, who), all_the_same=all_the_same)
        for line in came_to(site, kept.known):
            print(line)
    return 0


def reading(typed: str) -> dict[str, str]:
    """Read what was read of a pull: load, displacement, and seconds where they are known."""
    said = typed.split(":")
    if not 2 <= len(said) <= 3:  # noqa: PLR2004 - load and displacement, and the time
        raise NoReading(typed)
    return dict(zip(("load_kn", "displacement_mm", "after_s"), said, strict=False))


def day(typed: str | None, zone: ZoneInfo) -> str | None:
    """Read a day, or a time, by the mine's clock."""
    if typed is None:
        return None
    try:
        at = datetime.fromisoformat(typed)
    except ValueError as error:
        raise NoDay(typed) from error
    whole = at if at.tzinfo else at.replace(tzinfo=zone)
    return whole.isoformat()
