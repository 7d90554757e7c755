"""How entries are filed, bound by a keyed hash: what another program changed is recognised.

An entry's line proves itself by its revision. That it is here, under which kind, heading and
round it is found, and whether it counts, stand beside the line, where any program that opens
the file can change them. So all of it is bound, a part of the ledger at a time, with a secret
of this tablet, in the transaction that writes it. What didn't fit before is never bound anew:
it stays unfit until it is what it was.

The secret lies in the same file: this tells of an edited file, not of somebody who has the
file, this program and time.
"""

import hmac
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final, Self

from sqlalchemy import Connection, select, text
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.tables import BoundPartRow, KeyRow

SECRET = "records"  # noqa: S105 - a name, no secret
"""The owner of the secret among the keys."""
SECRET_BYTES = 32
IN_A_PART = 512
GOES_ON_BELOW = IN_A_PART // 2
"""A part with so many entries is not filled up: to bind it again costs more than a new one."""
UNBOUND: Final = "lastrow_unbound"
"""The execution option of an engine whose ledger nothing binds: an office's has no secret, and is
filled anew from the share when it is doubted."""

_COLUMNS = "sequence revision kind thing_id made_at clock heading round origin counts"
_FILED_AS = " || ".join(  # each with its type and length: nothing can stand for anything else
    f"typeof({it}) || ifnull(length(CAST({it} AS BLOB)), 0) || ':' || ifnull({it}, '')"
    for it in _COLUMNS.split()
)
_FILED = text(f"""
    SELECT CAST(group_concat(filed, '') AS BLOB) FROM (
        SELECT {_FILED_AS} AS filed FROM entry
        WHERE sequence BETWEEN :first AND :up_to ORDER BY sequence)
""")  # noqa: S608 - our own names of columns
_HIGHEST = text("""
    SELECT max((SELECT coalesce(max(sequence), 0) FROM entry),
               coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'entry'), 0))
""")


def highest_number(connection: Connection) -> int:
    """Give the highest number that an entry ever had here, also one that is gone."""
    return int(connection.execute(_HIGHEST).scalar_one())


@dataclass(frozen=True)
class Part:
    """So many entries of the ledger, from one number up to another."""

    first: int
    up_to: int


@dataclass(frozen=True)
class Binding:
    """The tablet's secret, in one transaction."""

    connection: Connection
    secret: bytes

    @classmethod
    def at(cls, connection: Connection) -> Self | None:
        """Give the binding of a database; None where nothing was bound yet, or nothing is ever."""
        if connection.get_execution_options().get(UNBOUND):
            return None
        query = select(KeyRow.content).where(KeyRow.owner == SECRET)
        secret = connection.execute(query).scalar_one_or_none()
        return cls(connection, secret) if secret is not None else None

    @classmethod
    def begun(cls, connection: Connection, secret: bytes) -> Self:
        """Bind everything that is here, for the first time."""
        connection.execute(insert(KeyRow).values(owner=SECRET, content=secret))
        binding = cls(connection, secret)
        binding.bind_from(1)
        return binding

    def of(self, *said: str | bytes) -> bytes:
        """Give the keyed hash of several texts."""
        parts = (it.encode() if isinstance(it, str) else it for it in said)
        framed = (len(it).to_bytes(8, "big") + it for it in parts)
        return hmac.digest(self.secret, b"".join(framed), "sha256")

    def parts(self, from_number: int = 1) -> Sequence[Part]:
        """Give the parts that were bound, those that begin at a number or later, in order."""
        row = BoundPartRow
        query = select(row.first, row.up_to).where(row.first >= from_number).order_by(row.first)
        return [Part(first, up_to) for first, up_to in self.connection.execute(query)]

    def fits(self, part: Part) -> bool:
        """Whether the entries of a part are filed as they were when they were bound."""
        row = BoundPartRow
        query = select(row.bound).where(row.first == part.first, row.up_to == part.up_to)
        bound = self.connection.execute(query).scalar_one_or_none()
        return bound is not None and hmac.compare_digest(bound, self._of_part(part))

    def all_fit(self) -> bool:
        """Whether every entry that ever was here is bound, and filed as it was."""
        next_one = 1
        for part in self.parts():
            if part.first != next_one or not self.fits(part):
                return False
            next_one = part.up_to + 1
        return next_one == highest_number(self.connection) + 1

    def bind(self, part: Part) -> None:
        """Bind how the entries of a part are filed now."""
        row = {"up_to": part.up_to, "bound": self._of_part(part)}
        new = insert(BoundPartRow).values(first=part.first, **row)
        self.connection.execute(new.on_conflict_do_update(index_elements=["first"], set_=row))

    def bind_from(self, first: int) -> None:
        """Bind the entries from a number on, in parts."""
        newest = highest_number(self.connection)
        for start in range(first, newest + 1, IN_A_PART):
            self.bind(Part(start, min(start + IN_A_PART - 1, newest)))

    def goes_on_from(self, newest: int) -> int:
        """Give where the part begins that goes on: the last while it is small, unless unfit."""
        small = self.parts(newest - GOES_ON_BELOW + 2)[-1:]
        if small and small[0].up_to == newest and self.fits(small[0]):
            return small[0].first
        return newest + 1

    def _of_part(self, part: Part) -> bytes:
        filed = self.connection.execute(_FILED, vars(part)).scalar_one()
        return self.of("filed", str(part.first), str(part.up_to), filed or b"")


@contextmanager
def adding(connection: Connection) -> Iterator[None]:
    """Bind the entries that are added within, in the caller's transaction."""
    binding = Binding.at(connection)
    if binding is None:
        yield
        return
    first = binding.goes_on_from(highest_number(connection))
    yield
    binding.bind_from(first)


@contextmanager
def refiling(connection: Connection, numbers: Iterable[int]) -> Iterator[None]:
    """Bind anew the parts with these entries, which are filed otherwise within."""
    binding = Binding.at(connection)
    if binding is None:
        yield
        return
    sound = [part for part in _with(binding.parts(), numbers) if binding.fits(part)]
    yield
    for part in sound:
        binding.bind(part)


def _with(parts: Sequence[Part], numbers: Iterable[int]) -> Iterable[Part]:
    starts = [part.first for part in parts]
    found = {bisect_right(starts, number) - 1 for number in numbers}
    return (parts[it] for it in sorted(found) if it >= 0)
