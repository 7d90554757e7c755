"""`lastrow target`: prints what a photo can be measured by where nothing else is known."""

from pathlib import Path
from typing import Annotated

import typer

from fieldapp.cli.door import Home
from fieldapp.cli.files import write_into

Out = Annotated[Path, typer.Argument(metavar="FILE", help="The .pdf file to write.")]


def target(
    out: Out,
    *,
    letter: Annotated[bool, typer.Option("--letter", help="On Letter, not on A4.")] = False,
    home: Home = None,  # noqa: ARG001 - every command takes it; this one opens no records
) -> int:
    """Print the target that a photo is measured by, 160 × 220 mm between its corner marks.

    Example: lastrow target target.pdf

    How to hold it stands on the page. Print it at 100 % and tape it once before it is used.
    """
    from fieldapp.report.pens.pdf import A4, LETTER
    from fieldapp.report.target import target_pdf
    from fieldapp.start import utc_now

    if out.suffix.lower() != ".pdf":
        raise typer.BadParameter("FILE names a .pdf file")
    written = write_into(out.parent, out.name, target_pdf(utc_now(), LETTER if letter else A4))
    print(f"Written to {written}. Print it at 100 %, then tape it: 160 mm and 220 mm.")
    return 0
