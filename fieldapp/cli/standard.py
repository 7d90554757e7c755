"""`lastrow standard …`: reading a support standard in plain words, and putting it in force."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.acting import As, signed_in_with
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.files import content_of

if TYPE_CHECKING:
    from fieldapp.work.standard_editing import CheckDiffers
    from schemas.standard import Standard

StandardFile = Annotated[Path, typer.Argument(metavar="FILE", help="A support standard.")]


def check(
    file: StandardFile,
    *,
    home: Home = None,  # noqa: ARG001 - every command takes it; this one opens no records
) -> int:
    """Say in plain words what a support standard demands, or refuse it with path and reason.

    Example: lastrow standard check standard.json
    """
    from fieldapp.assess.standard_check import warnings
    from fieldapp.assess.standard_words import standard_in_words

    standard = _sound_standard_in(file)
    for section in standard_in_words(standard):
        print(f"\n{section.title}")
        for line in section.lines:
            reasons = ", ".join(filter(None, (line.breach, line.because)))
            print(f"  {line.demanded}" + (f" [{reasons}]" if reasons else ""))
    for caution in warnings(standard):
        print(f"\nTo be known, at {caution.path}: {caution.reason}.")
    print(f"\n{standard.name} can be adopted.")
    return 0


def adopt(ctx: typer.Context, file: StandardFile, *, who: As, home: Home = None) -> int:
    """Put a support standard in force from its date, by a geotechnical engineer's sign code.

    Example: lastrow standard adopt standard.json --as "Geotechnical engineer"
    """
    standard = _sound_standard_in(file)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.standard_in_force import adopt as put_in_force

        put_in_force(site, standard, *signed_in_with(site, who))
        from fieldapp.assess.times import time_words
        from fieldapp.work.standard_in_force import replaced_from_its_first_day

        outrun = replaced_from_its_first_day(site, standard)
    since = time_words(standard.effective_from)
    print(f"{standard.name} is in force from {since}.")
    for older in outrun:
        day = time_words(older.effective_from)
        print(f"That is not after {older.name} ({day}), which no longer comes into force at all.")
    return 0


def compare(ctx: typer.Context, file: StandardFile, *, home: Home = None) -> int:
    """Say what a standard changes, and which rounds of the past year it judges differently.

    Example: lastrow standard compare standard.json
    """
    standard = _sound_standard_in(file)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.standard_editing import (
            changes,
            judged_differently,
            newest_of,
            rounds_of_the_past_year,
        )

        base = newest_of(site, standard.code)
        before, after = dict(base.entry.body), standard.model_dump(mode="json", exclude_none=True)
        found_changed = changes(before, after)
        for change in found_changed:
            print(change.sentence)
        if not found_changed:
            print(f"It demands what {base.body.name} does: nothing is changed.")
        for one in rounds_of_the_past_year(site):
            found = judged_differently(site, one, base.entry.revision, standard)
            if found is not None:
                now = found.after or "no such class"
                checks = ", ".join(map(_differs, found.checks))
                print(f"{found.heading} round {found.number}: {now}, was {found.before}; {checks}")
    return 0


def _differs(check: "CheckDiffers") -> str:
    after, before = (it or "not looked for" for it in (check.after, check.before))
    return f"{check.title} {after}, was {before}"


def _sound_standard_in(path: Path) -> "Standard":
    from fieldapp.assess.standard_check import refusals
    from schemas.reading import Refused, read_model
    from schemas.standard import Standard

    standard = read_model(content_of(path), Standard, source=path.name)
    found = refusals(standard)
    if found:
        raise Refused(path.name, found[0].path, found[0].reason, others=len(found) - 1)
    return standard
