"""`lastrow label`: labels for what somebody has to find again under ground."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of
from schemas.trouble import BadInput

if TYPE_CHECKING:
    from fieldapp.report.label.form import LabelForm
    from fieldapp.report.label.labels import Label
    from fieldapp.work.site import Site

FORMS = ("a4", "roll")
ENDINGS = (".pdf", ".png")
Length = Annotated[float | None, typer.Option(metavar="MM", min=0.0, max=100.0)]


@dataclass(eq=False)
class NoLabelFile(BadInput):
    """A file was named that is neither a page nor a picture."""

    name: str

    happened = "Labels can't be written to {name}."
    kept = "Nothing was printed."
    do_next = "Name a .pdf file to print from, or a .png picture for a label printer."


def label(  # noqa: PLR0913 - what a sheet of labels is
    ctx: typer.Context,
    things: Annotated[
        list[str],
        typer.Argument(metavar="THING…", help="A heading or peg by name, or any short id."),
    ],
    *,
    out: Annotated[Path, typer.Option("--out", metavar="FILE", help="A .pdf or .png file.")],
    form: Annotated[str, typer.Option(metavar="FORM", help="a4, or roll: 62 mm wide.")] = "a4",
    start: Annotated[
        int, typer.Option(metavar="N", min=1, help="First place of the sheet that is free.")
    ] = 1,
    columns: Annotated[int | None, typer.Option(min=1, max=4, help="Labels across.")] = None,
    rows: Annotated[int | None, typer.Option(min=1, max=8, help="Labels along.")] = None,
    margin_left: Length = None,
    margin_top: Length = None,
    gap_across: Length = None,
    gap_along: Length = None,
    home: Home = None,
) -> int:
    """Print labels: two square codes, the short id in letters of 10 mm, what and where it is.

    Example: lastrow label "4180 Main" P41 7K3Q-9XTR-5 --form a4 --out labels.pdf

    A4 takes four, read from 2.3 m on a photo of 12 megapixels, square on and in focus; the roll's
    are read from 2.0 m. Columns, rows, margins and gaps fit a sheet of labels that you have; how
    far its codes are read from is told.
    """
    from fieldapp.report.label.form import A4_FORM, ROLL, read_from_m
    from fieldapp.report.label.labels import module_mm

    if out.suffix.lower() not in ENDINGS:
        raise NoLabelFile(out.name)
    wanted: dict[str, Any] = {
        "columns": columns,
        "rows": rows,
        "margin_left_mm": margin_left,
        "margin_top_mm": margin_top,
        "gap_across_mm": gap_across,
        "gap_along_mm": gap_along,
    }
    chosen = {"a4": A4_FORM, "roll": ROLL}[one_of(FORMS, form, "form")]
    chosen = replace(chosen, **{name: it for name, it in wanted.items() if it is not None})
    far_m = read_from_m(module_mm(chosen))
    with door_of(ctx).site(home) as site:
        from fieldapp.report.label.printed import label_of
        from fieldapp.work.labels import thing_named

        found = [thing_named(site, name) for name in things]
        for path in _written(out, [label_of(site, it) for it in found], chosen, start, site):
            print(f"Written: {path}")
    for it in found:
        print(f"{it.code.readable}  {it.name}")
    print(f"Read from {far_m:.1f} m on a photo of 12 megapixels, square on and in focus.")
    return 0


def _written(
    out: Path, labels: "list[Label]", form: "LabelForm", start: int, site: "Site"
) -> list[Path]:
    """Write the file, whole or not at all; of several pictures the second is called FILE-2."""
    from fieldapp.cli.files import write_into
    from fieldapp.report.label.labels import labels_pdf, labels_png

    if out.suffix.lower() == ".pdf":
        return [write_into(out.parent, out.name, labels_pdf(labels, form, site.now(), start))]
    pages = labels_png(labels, form, start)
    names = [out.name, *(f"{out.stem}-{it}{out.suffix}" for it in range(2, len(pages) + 1))]
    return [write_into(out.parent, *it) for it in zip(names, pages, strict=True)]
