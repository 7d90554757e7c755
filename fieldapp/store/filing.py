"""Under which headings the entries that count are filed, told from the columns alone."""

from collections.abc import Collection, Mapping

from sqlalchemy import bindparam, text

from fieldapp.store.transactions import Transactions
from sync.ledger import FOR_ALL

_UNDER_THEIR_OWN = text("""
    SELECT heading, group_concat(revision, '') AS revisions
    FROM (SELECT heading, revision FROM entry WHERE heading IS NOT NULL AND counts
          UNION SELECT thing_id, revision FROM entry WHERE kind = 'heading' AND counts
          ORDER BY 1, 2)
    GROUP BY heading
""")
_UNDER_THEIR_ROUND = text("""
    SELECT DISTINCT entry.heading, it.revision
    FROM entry AS it JOIN entry ON entry.thing_id = it.round OR entry.round = it.round
    WHERE it.heading IS NULL AND it.round IS NOT NULL AND entry.heading IS NOT NULL
          AND it.kind <> 'heading' AND it.counts AND entry.counts
    ORDER BY 1, 2
""")
_UNDER_ALL = text("""
    SELECT DISTINCT revision FROM entry
    WHERE counts AND (heading IS NULL AND kind IN :kinds OR thing_id IN (
        SELECT thing_id FROM entry WHERE counts GROUP BY thing_id
        HAVING count(heading) NOT IN (0, count(*)) OR min(heading) <> max(heading)))
    ORDER BY revision
""").bindparams(bindparam("kinds", expanding=True))


def filed(database: Transactions, kinds: Collection[str]) -> Mapping[str | None, str]:
    """Give what is filed under each heading (see `Ledger.filed`)."""
    with database.reading() as connection:
        for_all = connection.execute(_UNDER_ALL, {"kinds": sorted(kinds)}).scalars().all()
        found: dict[str | None, str] = {FOR_ALL: "".join(for_all)}
        found |= {it.heading: it.revisions for it in connection.execute(_UNDER_THEIR_OWN)}
        for heading, revision in connection.execute(_UNDER_THEIR_ROUND):
            found[heading] += revision
    return found
