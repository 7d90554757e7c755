"""What the bolter told of the round, and what was seen of it."""

from collections.abc import Iterator

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from fieldapp.assess.words import counted
from schemas.findings import Place, Verdict

LONGER = 2
"""So many times as long as its type no bolt is: the label was misread."""


def bolter(stated: Stated) -> Iterator[Contradiction]:
    """Compare holes given up with holes marked, and the length told with the type's own.

    Parameters
    ----------
    stated : Stated
        What the bolter told, and what was seen. [-]

    Returns
    -------
    iterator of Contradiction
        The bolter told of something else than this round. [-]

    Source
    ------
    Common practice, no source.
    """
    for words in _given_up(stated):
        settle = "ask the bolter again how many holes were given up"
        yield Contradiction("bolter_check", Place(words=words), settle)
    for words in _length(stated):
        settle = "read type and length of the bolts on the pack label again"
        yield Contradiction("bolt_type", Place(words=words), settle, Verdict.NOT_LOOKED_AT)


def _given_up(stated: Stated) -> Iterator[str]:
    told = stated.bundle.round.bolter.blocked_holes
    marks = [(row.number, mark) for row in stated.bundle.round.rows for mark in row.bolts]
    holes = {(at, it.position) for at, it in marks if it.beside or it.state == "blocked hole"}
    bolts = sum(len(row.demanded.s_m) for row in stated.seen.rows)
    if told is not None and len(holes) > told:
        yield f"{counted(told, 'hole')} given up, the bolter told; {len(holes)} are marked"
    if told is not None and told > bolts:
        yield f"{counted(told, 'hole')} given up, more than the round has bolts"


def _length(stated: Stated) -> Iterator[str]:
    told = stated.bundle.round.bolter
    known = stated.seen.rules.types.get(told.bolt_type or "")
    if known is None or told.bolt_length_m is None:
        return
    if told.bolt_length_m > LONGER * known.length_m:
        yield f"{known.code} is {known.length_m} m long, and {told.bolt_length_m} m was told"
