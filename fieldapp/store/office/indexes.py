"""The indexes by which an office's entries are found, made once the entries are in.

Into a new database they are taken in without them: an index costs as much as its entries do
when it is kept in order all along, and a small part of that when it is made in one go.
"""

from typing import Final

from sqlalchemy import Connection, text

from fieldapp.store.office.office_ledger import LEDGER

INDEXES: Final[dict[str, str]] = {
    "kept_entry_kind": f"{LEDGER} (kind)",
    "kept_entry_thing": f"{LEDGER} (thing_id)",
    "kept_entry_heading": f"{LEDGER} (heading)",
    "kept_entry_round": f"{LEDGER} (round)",
    "kept_entry_made_at": f"{LEDGER} (made_at)",
}


def make_indexes(connection: Connection) -> None:
    """Make those that are not there yet."""
    for name, columns in INDEXES.items():
        connection.execute(text(f"CREATE INDEX IF NOT EXISTS {name} ON {columns}"))
