"""`lastrow bolt-test correct`: what is right of a test, and why it was stated otherwise."""

from typing import Annotated, Any, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.bolt_test import (
    Across,
    Age,
    AllTheSame,
    Batch,
    Bolt,
    BoltType,
    Broke,
    Calibrated,
    Core,
    Crew,
    Held,
    Installed,
    Pull,
    Rig,
    Torque,
    day,
    reading,
)
from fieldapp.cli.bolt_tests import came_to
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import metres, one_of, stated


def correct(  # noqa: PLR0913 - what somebody reads of a test
    ctx: typer.Context,
    test: Annotated[str, typer.Argument(metavar="ID", help="Its short id, or its whole id.")],
    *,
    because: Annotated[str, typer.Option(help="Why it was stated otherwise.")],
    who: As,
    at: Annotated[str | None, typer.Option(metavar="M", help="Chainage, in metres.")] = None,
    zone: Annotated[str | None, typer.Option(help="back, left shoulder, right wall, …")] = None,
    bolt_type: BoltType = None,
    across: Across = None,
    bolt: Bolt = None,
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
    note: str | None = None,
    all_the_same: AllTheSame = False,
    home: Home = None,
) -> int:
    """Put a test right; a failure stands until an engineer states the same.

    Example: lastrow bolt-test correct 7K3Q-9XTR-5 --pull 0:0 --pull 85:4 --held 1
    --because "gauge misread" --as Technician
    """
    from schemas.bodies.bolt_test import BoltTest
    from schemas.bodies.damage import DamageZone

    with door_of(ctx).site(home) as site:
        from fieldapp.work.bolt_tests.correcting import correct_bolt_test, to_correct
        from fieldapp.work.bolt_tests.recording import bolt_test

        local, known = ZoneInfo(site.settings.zone), bolt_test(site, test)
        said: dict[str, Any] = {
            "chainage_m": f"{metres(at, 'chainage')}" if at is not None else None,
            "zone": one_of(get_args(DamageZone), zone, "zone") if zone is not None else None,
            "bolt_type": bolt_type,
            "s_m": across,
            "bolt": bolt,
            "pulled": [reading(it) for it in pull] if pull else None,
            "held_min": held,
            "broke": broke,
            "torque_nm": torque,
            "cores_mpa": core or None,
            "age_days": age,
            "rig": rig,
            "rig_checked_at": day(calibrated, local),
            "installed_at": day(installed, local),
            "batch": batch,
            "crew": crew,
            "note": note,
            "corrected_because": because,
        }
        changed = {name: it for name, it in said.items() if it is not None}
        if "chainage_m" in changed:
            changed |= {"round": None, "s_m": across}
        body = stated(BoltTest, "the test", **to_correct(known).model_dump(mode="json") | changed)
        done = correct_bolt_test(site, known.id, body, named(site, who), all_the_same=all_the_same)
        now = bolt_test(site, known.id)
        kept = "has a correction that waits" if now.waits is not None else "is put right"
        print(f"Test {test} {kept}. Before that {done.before.outcome}.")
        for line in came_to(site, now):
            print(line)
        if done.still_doubted is not None:
            print(f"Batch {done.still_doubted} stays in doubt: an engineer decides on it.")
    return 0
