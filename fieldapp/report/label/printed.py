"""From the ledger to a label: what stands on it, and its files for a printer of either kind.

Screen and terminal print the same label because both ask here.
"""

from pathlib import Path
from zoneinfo import ZoneInfo

from fieldapp.report.label.form import A4_FORM, ROLL
from fieldapp.report.label.labels import Label, labels_pdf, labels_png
from fieldapp.report.printed import SHEETS
from fieldapp.report.words.label import date_words, place_words, title_words
from fieldapp.work.labels import Labelled, thing_named
from fieldapp.work.site import Site
from sync.durable import replace_file


def label_of(site: Site, thing: Labelled) -> Label:
    """Give what stands on the label of a thing."""
    title = title_words(thing)
    return Label(
        code=thing.code,
        title=f"DEMO · {title}" if site.mine.demo else title,
        place=place_words(thing, site.settings.units),
        date=date_words(thing, ZoneInfo(site.settings.zone)),
    )


def write_label(site: Site, name: str) -> tuple[Path, Path]:
    """Write a thing's label where sheets are written, and say where: a page, and a roll's picture.

    Raises
    ------
    NothingLabelled, SeveralLabelled
        The name or id is of nothing that bears a label, or of several things.
    """
    thing = thing_named(site, name)
    label, folder = label_of(site, thing), site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    page, picture = (folder / f"label-{thing.code.readable}.{it}" for it in ("pdf", "png"))
    replace_file(page, labels_pdf([label], A4_FORM, site.now()))
    replace_file(picture, labels_png([label], ROLL)[0])
    return page, picture
