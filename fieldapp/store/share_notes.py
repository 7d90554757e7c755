"""What is known of the files of the share: what was put there, and what was found bad."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict

from sqlalchemy import Connection, delete, select

from fieldapp.store.dialects import insert_or
from fieldapp.store.tables import BadFileRow, ExchangedRow, LookRow, PublishedRow
from sync.holdings import Look, MetBad
from sync.names import SegmentName

_PUBLISHED = select(PublishedRow.tablet, PublishedRow.seq, PublishedRow.hash16, PublishedRow.at_s)
_LOOKS = select(LookRow.report, LookRow.at_s, LookRow.good, LookRow.put_right)


def published(connection: Connection) -> Mapping[SegmentName, float]:
    """Give when own segments were put into the share, or last seen good there."""
    found = connection.execute(_PUBLISHED)
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


def bad_files(connection: Connection) -> Mapping[str, MetBad]:
    """Give what was found bad and has not been seen good since."""
    row = BadFileRow
    found = connection.execute(select(row.path, row.reason, row.tries, row.first_seen_s))
    return {it.path: MetBad(it.path, it.reason, it.tries, it.first_seen_s) for it in found}


def note_bad(connection: Connection, paths: Iterable[str], reason: str, at_s: float) -> None:
    """Keep that files were found bad once more; since when stays."""
    new = insert_or(connection, BadFileRow)
    changed = {"reason": new.excluded.reason, "tries": BadFileRow.tries + 1}
    rows = [{"path": path, "reason": reason, "tries": 1, "first_seen_s": at_s} for path in paths]
    if rows:
        index = [BadFileRow.path]
        connection.execute(new.on_conflict_do_update(index_elements=index, set_=changed), rows)


def note_good(connection: Connection, path: str) -> None:
    """Keep that a file is good now."""
    connection.execute(delete(BadFileRow).where(BadFileRow.path == path))


def looks(connection: Connection) -> Mapping[str, Look]:
    """Give what was found about the reports of others, by revision."""
    found = connection.execute(_LOOKS)
    return {it.report: Look(it.at_s, good=it.good, put_right=it.put_right) for it in found}


def note_looks(connection: Connection, looks: Mapping[str, Look]) -> None:
    """Keep what was found about reports of others."""
    new = insert_or(connection, LookRow)
    changed = new.on_conflict_do_update(
        index_elements=[LookRow.report],
        set_={name: new.excluded[name] for name in ("at_s", "good", "put_right")},
    )
    rows = [{"report": report, **asdict(look)} for report, look in looks.items()]
    connection.execute(changed, rows)


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
    connection.execute(delete(LookRow))
    forget_bad(connection)


def forget_bad(connection: Connection) -> None:
    """Forget which files were bad."""
    connection.execute(delete(BadFileRow))
