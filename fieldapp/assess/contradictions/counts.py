"""Plates counted, and the bolts that there are to carry them."""

from collections.abc import Iterator

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from fieldapp.assess.words import counted, row_place


def counts(stated: Stated) -> Iterator[Contradiction]:
    """Compare what was counted with what was marked.

    Parameters
    ----------
    stated : Stated
        Plates counted, and bolts as they were marked. [-]

    Returns
    -------
    iterator of Contradiction
        More plates than bolts. [-]

    Source
    ------
    Common practice, no source.
    """
    for row in stated.seen.all_rows:
        told = row.counted
        bolts = sum(bolt.is_there for bolt in row.all_bolts)
        if told is not None and told.plates > bolts:
            words = f"{row.name}: {counted(told.plates, 'plate')}, more than there are bolts"
            settle = f"count again, {row.name}; mark bolts that are more or fewer where they stand"
            check = "bolts_present" if row.number > 0 else "old_rows"
            yield Contradiction(check, row_place(row.number, words=words), settle)
