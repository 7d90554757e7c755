"""How an office's ledger differs from a tablet's: by its table's name, and nothing binds it.

In an office, `entry` is the view of where people may go, which is what a person who asks for it
means. The entries themselves lie in `kept_entry`.
"""

from typing import Final

from sqlalchemy import Engine

from fieldapp.store.binding import UNBOUND
from fieldapp.store.tables import EntryRow

LEDGER: Final = "kept_entry"


def of_an_office(engine: Engine) -> None:
    """Have every statement that is put together for this engine name the ledger of an office."""
    engine.update_execution_options(**{UNBOUND: True})
    preparer = engine.dialect.identifier_preparer
    plainly = preparer.quote

    def quote(ident: str) -> str:
        return plainly(LEDGER if ident == EntryRow.__tablename__ else ident)

    preparer.quote = quote  # type: ignore[method-assign]
