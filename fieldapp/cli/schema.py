"""`lastrow schema`: the published form of everything that is written down."""

from pathlib import Path
from typing import Annotated

import typer

from fieldapp.cli.door import Home
from fieldapp.cli.files import write_into


def schema(
    *,
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="Folder to write into.")],
    home: Home = None,  # noqa: ARG001 - every command takes it; this one opens no records
) -> int:
    """Write the JSON Schema of every entry, bundle, assessment and report into a folder.

    Example: lastrow schema --out schemas
    """
    from fieldapp.report.published import published_reports
    from schemas.json_schema import published

    for name, content in (published() | published_reports()).items():
        print(write_into(out, name, content))
    return 0
