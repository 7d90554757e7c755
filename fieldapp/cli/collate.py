"""`lastrow collate`: the share of a mine in one database, for an office."""

from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, asked_password, door_of
from fieldapp.cli.progress import show_progress

if TYPE_CHECKING:
    from fieldapp.store.office import Office
    from fieldapp.work.collating import AsAt, Collated

Share = Annotated[str, typer.Argument(metavar="SHARE", help="The shared folder.")]
Address = Annotated[
    str,
    typer.Option(
        "--database",
        metavar="URL",
        help="sqlite:///office.db, or postgresql+psycopg://user@server/office.",
    ),
]
RootKey = Annotated[
    str | None,
    typer.Option("--root-key", metavar="HEX", help="The site's root key, where it is known."),
]


def collate(
    ctx: typer.Context,
    share: Share,
    database: Address,
    *,
    root_key: RootKey = None,
    home: Home = None,
) -> int:
    """Fill an office's database from the shared folder, which is only read.

    Example: lastrow collate /mnt/survey/support --database sqlite:///office.db
    """
    from fieldapp.start import SETTINGS_FILE, mine_in, read_settings, share_password, utc_now
    from fieldapp.store.office import open_office
    from fieldapp.work.collating import (
        AsAt,
        Keys,
        collate_share,
        share_to_collate,
        work_out_reports,
    )

    own = door_of(ctx).home_folder(home)
    keys = Keys(root_key, mine_in(own).site_key or None)
    as_at = AsAt((door_of(ctx).now or utc_now)(), read_settings(own / SETTINGS_FILE))
    folder = share_to_collate(share, share_password(asked_password))
    with open_office(database) as office:
        collated = collate_share(office, folder, keys, watch=show_progress)
        _tell(office, collated, as_at)
        worked = work_out_reports(office, collated.identity, as_at, watch=show_progress)
    print(f"Worked out anew: {worked.headings} headings; {worked.judged} rounds judged again.")
    if worked.overtaken:
        print("A collation that was started later works out the rest.")
    return 0


def _tell(office: "Office", collated: "Collated", as_at: "AsAt") -> None:
    from fieldapp.report.words.exchange import reading_lines
    from fieldapp.report.words.trust import due_lines, rival_lines
    from fieldapp.work.enrol.renewing import renewal_of

    print(f"{collated.identity.mine}: {collated.identity.store}, in {office.database.place}.")
    print(*reading_lines(collated.outcome, collated.names), sep="\n")
    renewed = renewal_of(collated.trust, as_at.at)
    due = due_lines(renewed, ZoneInfo(as_at.settings.zone))
    for line in (*rival_lines(collated.trust), *due):
        print(line)
    if collated.unproved:
        numbers = ", ".join(collated.check_numbers)
        print(f"Check number of the site, as the share has it: {numbers}.")
        print("Compare it with the office machine's; drop this database if it is another.")
