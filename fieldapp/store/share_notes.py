"""What is known of the files of the share: what was put there, and what was found bad."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict

from sqlalchemy import Connection, delete, select

from fieldapp.store.dialects import insert_or
from fieldapp.store.tables import BadFileRow, ExchangedRow, PublishedRow
from sync.holdings import BadFile
from sync.names import SegmentName


def published(connection: Connection) -> Mapping[SegmentName, float]:
    """Give when own segments were put into the share, or last seen good there."""
    row = PublishedRow
    found = connection.execute(select(row.tablet, row.seq, row.hash16, row.at_s))
    return {SegmentName(tablet, seq, hash16): at_s for tablet, seq, hash16, at_s in found}


def put_published(connection: Connection, names: Iterable[SegmentName], at_s: float) -> None:
    """Keep that segments were put, or seen good."""
    new = insert_or(connection, PublishedRow)
    changed = new.on_conflict_do_update(
        index_elements=[PublishedRow.tablet, PublishedRow.seq, PublishedRow.hash16],
        set_={"at_s": new.excluded.at_s},
    )
    rows = [{**asdict(name), "at_s": at_s} for name in names]
    if rows:
        connection.execute(changed, rows)


def forget_published(connection: Connection, names: Iterable[SegmentName]) -> None:
    """Keep that segments have to be put again."""
    row = PublishedRow
    for name in names:
        its = row.tablet == name.tablet, row.seq == name.seq, row.hash16 == name.hash16
        connection.execute(delete(row).where(*its))


def bad_files(connection: Connection) -> Mapping[str, BadFile]:
    """Give what was found bad and has not been seen good since."""
    row = BadFileRow
    found = connection.execute(select(row.path, row.reason, row.tries, row.first_seen_s))
    return {it.path: BadFile(it.path, it.reason, it.tries, it.first_seen_s) for it in found}


def note_bad(connection: Connection, path: str, reason: str, at_s: float) -> None:
    """Keep that a file was found bad once more; since when stays."""
    new = insert_or(connection, BadFileRow).values(
        path=path, reason=reason, tries=1, first_seen_s=at_s
    )
    changed = {"reason": new.excluded.reason, "tries": BadFileRow.tries + 1}
    connection.execute(new.on_conflict_do_update(index_elements=[BadFileRow.path], set_=changed))


def note_good(connection: Connection, path: str) -> None:
    """Keep that a file is good now."""
    connection.execute(delete(BadFileRow).where(BadFileRow.path == path))


def note_exchanged(connection: Connection, pairing: int, at_s: float) -> None:
    """Keep when an exchange with the share of a pairing ended."""
    new = insert_or(connection, ExchangedRow).values(pairing=pairing, at_s=at_s)
    changed = {"at_s": new.excluded.at_s}
    index = [ExchangedRow.pairing]
    connection.execute(new.on_conflict_do_update(index_elements=index, set_=changed))


def exchanged_at_s(connection: Connection, pairing: int) -> float | None:
    """Give when the last exchange with the share of a pairing ended."""
    query = select(ExchangedRow.at_s).where(ExchangedRow.pairing == pairing)
    return connection.execute(query).scalar_one_or_none()


def forget_share(connection: Connection) -> None:
    """Forget what was known of a share: the tablet belongs to another."""
    connection.execute(delete(PublishedRow))
    forget_bad(connection)


def forget_bad(connection: Connection) -> None:
    """Forget which files were bad."""
    connection.execute(delete(BadFileRow))
