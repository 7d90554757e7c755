"""Under which headings the entries are filed, told from the columns alone: no line is read."""

from collections import defaultdict
from collections.abc import Collection, Mapping

from sqlalchemy import Connection, bindparam, text

from fieldapp.store.engine import Database
from sync.ledger import FOR_ALL, Filed

_UNDER_THEIR_OWN = text("""
    SELECT heading, group_concat(revision, ''), group_concat(DISTINCT author)
    FROM (SELECT heading, revision, author FROM entry WHERE heading IS NOT NULL
          ORDER BY heading, revision)
    GROUP BY heading
""")
_UNDER_THEIR_ROUND = text("""
    SELECT DISTINCT entry.heading, it.revision, it.author
    FROM entry AS it JOIN entry ON entry.thing_id = it.round OR entry.round = it.round
    WHERE it.heading IS NULL AND it.round IS NOT NULL AND entry.heading IS NOT NULL
    ORDER BY 1, 2
""")
_UNDER_ALL = text("""
    SELECT DISTINCT revision, author FROM entry
    WHERE heading IS NULL AND kind IN :kinds OR thing_id IN (
        SELECT thing_id FROM entry GROUP BY thing_id
        HAVING count(heading) NOT IN (0, count(*)) OR min(heading) <> max(heading))
    ORDER BY revision
""").bindparams(bindparam("kinds", expanding=True))


def filed(database: Database, kinds: Collection[str]) -> Mapping[str | None, Filed]:
    """Give what is filed under each heading (see `Ledger.filed`)."""
    with database.reading() as connection:
        found: dict[str | None, Filed] = {FOR_ALL: _for_all(connection, kinds)}
        for heading, revisions, authors in connection.execute(_UNDER_THEIR_OWN):
            found[heading] = Filed(revisions, frozenset(authors.split(",")))
        for heading, more in _by_round(connection).items():
            found[heading] = found[heading].with_more(more)
    return found


def _for_all(connection: Connection, kinds: Collection[str]) -> Filed:
    rows = connection.execute(_UNDER_ALL, {"kinds": sorted(kinds)}).all()
    return Filed("".join(row[0] for row in rows), frozenset(row[1] for row in rows))


def _by_round(connection: Connection) -> dict[str, Filed]:
    found: dict[str, Filed] = defaultdict(Filed)
    for heading, revision, author in connection.execute(_UNDER_THEIR_ROUND):
        found[heading] = found[heading].with_more(Filed(revision, frozenset([author])))
    return found
