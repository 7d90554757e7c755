"""`lastrow assess`: what a round comes to, from a bundle file. Opens no records."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.bundles import bundle_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.exits import BAD, exit_of, worst_of
from schemas.trouble import Trouble

if TYPE_CHECKING:
    from schemas.bundle import Bundle
    from schemas.findings import Assessment

Bundles = Annotated[list[Path], typer.Argument(metavar="FILE...", help="Bundle files.")]


def assess(
    ctx: typer.Context,
    files: Bundles,
    *,
    as_json: Annotated[
        bool, typer.Option("--json", help="Answer with assessments as JSON.")
    ] = False,
    home: Home = None,  # noqa: ARG001 - every command takes it; this one opens no records
) -> int:
    """Assess supported rounds from bundle files, and give the verdict as the exit code.

    Example: lastrow assess round-412.json --json
    """
    from fieldapp.assess import assess as judge

    answers: list[tuple[Bundle, Assessment]] = []
    codes: list[int] = []
    for path in files:
        try:
            bundle = bundle_in(path)
            answers.append((bundle, judge(bundle)))
        except Trouble as trouble:
            if trouble.exit_code != BAD:
                raise
            door_of(ctx).tell(trouble)
            codes.append(BAD)
        else:
            codes.append(exit_of(answers[-1][1].verdict))
    _print(answers, as_json=as_json, several=len(files) > 1)
    return worst_of(codes)


def _print(answers: "list[tuple[Bundle, Assessment]]", *, as_json: bool, several: bool) -> None:
    from fieldapp.cli.findings import findings_table

    if not as_json:
        for bundle, assessment in answers:
            print(findings_table(bundle, assessment))
        return
    documents = [assessment.model_dump(mode="json") for _, assessment in answers]
    if several or documents:
        print(_json(documents if several else documents[0]))


def _json(value: object) -> str:
    """Write JSON whose bytes follow from the value alone."""
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
