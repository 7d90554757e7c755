"""The standard that a round names, and the one that is given with it."""

from collections.abc import Iterator
from functools import lru_cache
from hashlib import sha256

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from schemas.bundle import Bundle
from schemas.canonical import canonical_bytes
from schemas.entry import read_entry
from schemas.findings import Place, Verdict
from schemas.reading import read_model
from schemas.standard import Standard

_SHOWN = 12
"""So many digits of a hash tell two apart."""


def standard(stated: Stated) -> Iterator[Contradiction]:
    """Compare the standard with its own entry, with the round, the heading and the time.

    Parameters
    ----------
    stated : Stated
        Standard, the line of its entry, round, heading and time. [-]

    Returns
    -------
    iterator of Contradiction
        The round was looked at by another standard than this; nobody can say where no line is
        given. [-]

    Source
    ------
    Common practice, no source; the hash is SHA-256, FIPS 180-4.
    """
    for words, settle in (*_named(stated.bundle), *_in_force(stated.bundle)):
        yield Contradiction("standard", Place(words=words), settle, Verdict.NOT_LOOKED_AT)


def _named(bundle: Bundle) -> Iterator[tuple[str, str]]:
    line, named = bundle.standard_line, bundle.round.standard[:_SHOWN]
    if line is None:
        return
    settle = f"judge the round by the standard that it names, {named}"
    revision = sha256(line.encode()).hexdigest()
    if revision != bundle.round.standard:
        given = revision[:_SHOWN]
        yield f"the round names the standard {named}, this is the standard {given}", settle
    elif not _is_written_there(bundle.standard, line):
        yield f"{bundle.standard.name} is not as the standard {named} was written down", settle


def _in_force(bundle: Bundle) -> Iterator[tuple[str, str]]:
    settle, given = "judge the round by the mine's own standard, in force then", bundle.standard
    if given.demo and not bundle.heading.demo:
        yield f"{given.name} is a worked example, the heading is of a real mine", settle
    if given.effective_from > bundle.as_at:
        yield f"{given.name} was not in force yet at the time of judging", settle


def _is_written_there(given: Standard, line: str) -> bool:
    written = _written(line)
    return given == written or _facts(given) == _facts(written)


@lru_cache(maxsize=16)
def _written(line: str) -> Standard:
    entry = read_entry(line.encode(), source="the line of the standard")
    return read_model(canonical_bytes(entry.body), Standard, source="the line of the standard")


def _facts(stated: Standard) -> object:
    return stated.model_dump(mode="json", exclude_none=True)
