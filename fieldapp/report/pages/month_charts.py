"""What months come to, as charts; the same for one heading and for several."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from assets.translate import _
from fieldapp.report.chart import Chart, ControlLine, Series
from fieldapp.work.reporting.facts import MonthTold
from fieldapp.work.reporting.told import RoundTold


def month_charts(months: Sequence[MonthTold]) -> Iterator[Chart]:
    """Give coverage, first-pass acceptance, and damage by month."""
    steps = tuple(it.month for it in months)
    yield Chart(
        _("Fired and signed"),
        _("metres a month"),
        steps,
        (
            Series(_("fired"), tuple(float(it.fired_m) for it in months)),
            Series(_("signed"), tuple(float(it.signed_m) for it in months)),
        ),
    )
    yield Chart(
        _("Accepted when first shown"),
        _("rounds a month"),
        steps,
        (
            Series(_("signed"), tuple(float(it.signed_off) for it in months)),
            Series(_("accepted first"), tuple(float(it.accepted_first) for it in months)),
        ),
    )
    yield Chart(
        _("Damage found and repaired"),
        _("number a month"),
        steps,
        (
            Series(_("found"), tuple(float(it.damage_found) for it in months)),
            Series(_("repaired and verified"), tuple(float(it.damage_repaired) for it in months)),
        ),
    )


def last_row_chart(rounds: Sequence[RoundTold], limit_m: Decimal | None) -> Chart:
    """Give how far the last row stood from the face, round by round, beside its limit."""
    lines = () if limit_m is None else (ControlLine(_("at most"), float(limit_m), graver=True),)
    read = tuple(
        None if it.last_row_to_face_m is None else float(it.last_row_to_face_m) for it in rounds
    )
    return Chart(
        _("Last row to the face, the greatest of left, middle and right"),
        _("metres, by round"),
        tuple(str(it.mark) for it in rounds),
        (Series(_("read"), read, "points"),),
        lines,
    )
