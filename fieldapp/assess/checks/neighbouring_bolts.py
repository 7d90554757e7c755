"""Whether two neighbouring positions are without a counting bolt."""

from collections.abc import Sequence

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.neighbours import Position, RowOfPositions, neighbours_without_bolt
from fieldapp.assess.rows_judged import not_known
from fieldapp.assess.seen import Row, Seen
from schemas.findings import Finding
from schemas.limits import Demanded


def neighbouring_bolts(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge them: along the row, along the drive and diagonally, across the joint too.

    Parameters
    ----------
    seen : Seen
        Rows and bolts, old ones too. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding; a place for each group, whatever the largest gap says. [-]

    Source
    ------
    Common practice, no source.
    """
    rows = seen.all_rows
    positions = [
        RowOfPositions(row.demanded.s_m, tuple(bolt.counts for bolt in row.bolts.positions))
        for row in rows
    ]
    breaches = [_breach(rows, group) for group in neighbours_without_bolt(positions)]
    unseen = [place for row in rows for place in not_known(row)]
    check = Check("neighbouring_bolts", "no two neighbours without a bolt that counts", "counted")
    return answered(check, demanded, breaches, unseen)


def _breach(rows: Sequence[Row], group: Sequence[Position]) -> Breach:
    bolts = [rows[row].bolts.positions[position] for row, position in group]
    first = bolts[0].place
    others = "; ".join(bolt.place.words for bolt in bolts[1:])
    place = first.model_copy(update={"words": f"{first.words}, and {others}"})
    return Breach(place, f"nobody in: add the bolts from accepted ground, {first.words} first")
