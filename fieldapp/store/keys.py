"""The keys on this tablet, and how long somebody waits who types wrong codes.

The delays are kept in the database, so that they survive a restart. They slow a guesser at
the tablet; they do not stop somebody who took the file away.
"""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

from sqlalchemy import Connection, bindparam, delete, select
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.binding import SECRET
from fieldapp.store.codes import KeyMissing, SignCodeDelayed, wait_s
from fieldapp.store.engine import Database
from fieldapp.store.tables import CodeTryRow, KeyRow
from schemas.signatures import SEED_BYTES, SigningKey
from schemas.wrapped_key import WrappedKey, read_wrapped_key, unwrap

_TABLET = "tablet"
_WAITING = "waiting "
_NOBODY_S = (_TABLET, SECRET)
"""Kept as they are, under no sign code."""


class Keys:
    """The tablet's own key, and those of people and of the site under their codes.

    Parameters
    ----------
    database : Database
        Where they are kept.
    random_bytes : callable
        Gives so many bytes from the system's source of randomness.
    """

    def __init__(self, database: Database, random_bytes: Callable[[int], bytes]) -> None:
        self._database = database
        self._random_bytes = random_bytes
        self._seen: SigningKey | None = None
        """The tablet's key as it was last read: to work out its public half takes a while."""

    def tablet(self) -> SigningKey:
        """Give the tablet's key, made the first time it is asked for."""
        with self._database.reading() as connection:
            kept = self.tablet_seen(connection)
        if kept is not None:
            return kept
        with self._database.writing() as connection:
            return self.tablet_within(connection)

    def tablet_seen(self, connection: Connection) -> SigningKey | None:
        """Give the tablet's key as it is in the caller's transaction, if there is one."""
        kept, seen = _content(connection, _TABLET), self._seen
        if kept is None:
            return None
        if seen is None or seen.seed != kept:
            seen = self._seen = SigningKey(kept)
        return seen

    def tablet_within(self, connection: Connection) -> SigningKey:
        """Give the tablet's key as it is in the caller's transaction, which may make it."""
        return self.tablet_seen(connection) or self.renew_tablet(connection)

    def renew_tablet(self, connection: Connection) -> SigningKey:
        """Put a new key in the place of the tablet's, in the caller's transaction."""
        key = SigningKey(self._random_bytes(SEED_BYTES))
        self.put_tablet(connection, key)
        return key

    def put_tablet(self, connection: Connection, key: SigningKey) -> None:
        """Put a key in the place of the tablet's, in the caller's transaction."""
        _put_key(connection, _TABLET, key.seed)

    def keep(self, wrapped: WrappedKey) -> None:
        """Keep somebody's key, in place of an earlier one; wrong codes are forgotten."""
        if wrapped.owner in _NOBODY_S:
            raise ValueError("the tablet's key has no sign code")
        with self._database.writing() as connection:
            _put_key(connection, wrapped.owner, wrapped.to_bytes())
            _forget_tries(connection, wrapped.owner)

    def keep_waiting(self, wrapped: WrappedKey) -> None:
        """Keep a key that the site has not certified yet, beside the one in use."""
        with self._database.writing() as connection:
            _put_key(connection, _WAITING + wrapped.owner, wrapped.to_bytes())

    def waiting(self, owner: str) -> str | None:
        """Give the public half of somebody's key that waits; None where none does."""
        with self._database.reading() as connection:
            content = _content(connection, _WAITING + owner)
        source = f"the waiting key of {owner}"
        return read_wrapped_key(content, source=source).public_key if content else None

    def let_sign(self, owner: str) -> None:
        """Use somebody's waiting key from now on, in place of an earlier one."""
        with self._database.writing() as connection:
            content = _content(connection, _WAITING + owner)
            if content is not None:
                _put_key(connection, owner, content)
                _forget_tries(connection, owner)
                gone = delete(KeyRow).where(KeyRow.owner == _WAITING + owner)
                connection.execute(gone)

    def owners(self) -> tuple[str, ...]:
        """Give those who have a key here under a code, sorted."""
        query = select(KeyRow.owner).where(KeyRow.owner.not_in(_NOBODY_S)).order_by(KeyRow.owner)
        with self._database.reading() as connection:
            kept = connection.execute(query).scalars().all()
        return tuple(owner for owner in kept if not owner.startswith(_WAITING))

    def public_key(self, owner: str) -> str:
        """Give the public half of somebody's key; `KeyMissing` when there is none."""
        return self._wrapped(owner).public_key

    def unlock(self, owner: str, sign_code: str, *, now: datetime) -> SigningKey:
        """Take out somebody's key with their sign code.

        The try is counted before it is made, so that switching off in the middle saves none.

        Raises
        ------
        KeyMissing
            There is no such key here.
        SignCodeDelayed
            Too soon after wrong codes; the code was not looked at.
        WrongSignCode
            It is not the code.
        """
        wrapped = self._wrapped(owner)
        with self._database.writing() as connection:
            waiting = _count_try(connection, owner, now.astimezone(UTC))
        if waiting:
            raise SignCodeDelayed(owner, waiting)
        key = unwrap(wrapped, sign_code)
        with self._database.writing() as connection:
            _forget_tries(connection, owner)
        return key

    def _wrapped(self, owner: str) -> WrappedKey:
        with self._database.reading() as connection:
            content = None if owner in _NOBODY_S else _content(connection, owner)
        if content is None:
            raise KeyMissing(owner)
        return read_wrapped_key(content, source=f"the key of {owner}")


_CONTENT = select(KeyRow.content).where(KeyRow.owner == bindparam("owner"))


def _content(connection: Connection, owner: str) -> bytes | None:
    return connection.execute(_CONTENT, {"owner": owner}).scalar_one_or_none()


def _put_key(connection: Connection, owner: str, content: bytes) -> None:
    new = insert(KeyRow).values(owner=owner, content=content)
    changed = {"content": new.excluded.content}
    connection.execute(new.on_conflict_do_update(index_elements=[KeyRow.owner], set_=changed))


def _count_try(connection: Connection, owner: str, now: datetime) -> int:
    """Count one more try unless it comes too soon; give the seconds that are left to wait."""
    query = select(CodeTryRow.wrong, CodeTryRow.last_at).where(CodeTryRow.owner == owner)
    wrong, last_at = connection.execute(query).one_or_none() or (0, now.isoformat())
    last = datetime.fromisoformat(last_at)
    if now < last:  # the clock was set back: the wait starts again, it gets no shorter
        _put_tries(connection, owner, wrong, now)
        last = now
    left = last + timedelta(seconds=wait_s(wrong)) - now
    if left > timedelta(0):
        return -(-left // timedelta(seconds=1))
    _put_tries(connection, owner, wrong + 1, now)
    return 0


def _put_tries(connection: Connection, owner: str, wrong: int, at: datetime) -> None:
    new = insert(CodeTryRow).values(owner=owner, wrong=wrong, last_at=at.isoformat())
    changed = {"wrong": new.excluded.wrong, "last_at": new.excluded.last_at}
    connection.execute(new.on_conflict_do_update(index_elements=[CodeTryRow.owner], set_=changed))


def _forget_tries(connection: Connection, owner: str) -> None:
    connection.execute(delete(CodeTryRow).where(CodeTryRow.owner == owner))
