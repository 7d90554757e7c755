"""`lastrow backup` and `lastrow restore`: everything that brings a tablet back, in one file."""

from datetime import UTC
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home, door_of

if TYPE_CHECKING:
    from fieldapp.store.bring_back import BroughtBack

To = Annotated[Path, typer.Argument(metavar="FILE", help="Where nothing is yet.")]
From = Annotated[Path | None, typer.Argument(metavar="FILE", help="A backup of this tablet.")]
Newest = Annotated[
    bool, typer.Option("--newest", help="Take the newest good one that was kept here by itself.")
]

KILOBYTE, MEGABYTE = 1_000, 1_000_000


def backup(ctx: typer.Context, file: To, *, home: Home = None) -> int:
    """Write everything that brings this tablet back into one file, while the app goes on.

    Example: lastrow backup tablet-7.lastrow
    """
    from fieldapp.store.backup import write_backup

    with door_of(ctx).site(home) as site:
        photos = tuple(site.store.photos.files())
        made = write_backup(site.store.database.path, file, site.now(), photos)
    holds = [_size(made.size), f"{made.manifest.entries} entries"]
    if made.photos:
        holds.append(f"{made.photos} photos")
    print(f"{made.path}: {', '.join(holds)}, read back and found whole.")
    print("It holds the tablet's keys: keep it as you keep the tablet.")
    return 0


def restore(
    ctx: typer.Context, file: From = None, *, newest: Newest = False, home: Home = None
) -> int:
    """Bring the records back from a backup, and from what a damaged database still shows.

    Example: lastrow restore --newest
    """
    from fieldapp.start import settings_if_readable, utc_now
    from fieldapp.store.backup_file import read_backup
    from fieldapp.store.bring_back import bring_back, bring_back_newest

    if (file is None) is not newest:
        raise typer.BadParameter("it needs a backup, or --newest, and not both", ctx)
    door = door_of(ctx)
    folder, now = door.home_folder(home), door.now or utc_now
    if file is None:
        _tell(bring_back_newest(folder, settings_if_readable(folder).backups, now))
    else:
        _tell(bring_back(folder, read_backup(file), now))
    return 0


def _size(size: int) -> str:
    if size < MEGABYTE:
        return f"{size / KILOBYTE:.0f} kB"
    return f"{size / MEGABYTE:.1f} MB"


def _tell(brought: "BroughtBack") -> None:
    from fieldapp.report.words.findings import when

    if brought.backup is not None:
        made = when(brought.backup.manifest.made_at, UTC)
        print(f"Brought back from {brought.backup.path}, made {made}.")
    if brought.copy is not None:
        print(f"{brought.read} of the entries were read in the damaged database alone.")
        print(f"It is kept in {brought.copy}.")
    print(f"{brought.entries} entries are here now, every line fits its hash.")
    if brought.missing:
        print(f"{brought.missing} that were here before could not be read anywhere.")
    print("Share with the mine's folder: what was sent after the backup comes back from there.")
    print("Look at the open rounds and the entry lines before anybody relies on them.")
