"""`lastrow bolt-test told`: an engineer was told of support that failed a test."""

from typing import Annotated, cast, get_args

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of


def told(
    ctx: typer.Context,
    test: Annotated[str, typer.Argument(metavar="ID", help="Its short id, or its whole id.")],
    *,
    engineer: Annotated[str, typer.Option(help="Who was told.")],
    by: Annotated[str, typer.Option(help="face to face, by radio, by phone or in writing.")],
    who: As,
    home: Home = None,
) -> int:
    """State that an engineer was told of a failed test: it stands on the board until then.

    Example: lastrow bolt-test told 7K3Q-9XTR-5 --engineer "Engineer" --by "by radio" --as Crew
    """
    from schemas.bodies.told import ToldBy

    how = cast("ToldBy", one_of(get_args(ToldBy), by, "way of telling"))
    with door_of(ctx).site(home) as site:
        from fieldapp.work.bolt_test_record import told_words
        from fieldapp.work.telling import tell_engineer

        known = tell_engineer(site, test, engineer, how, named(site, who))
        print(f"Kept: {told_words(known.body)}. It closes nothing by itself.")
    return 0
