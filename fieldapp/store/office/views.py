"""Makes the views that a person or a report tool queries, as `views.sql` states them."""

import re
from importlib import resources
from typing import Final

from sqlalchemy import Connection, text

_STATEMENT: Final = re.compile(r"CREATE VIEW (\w+) AS\n.*?;", re.DOTALL)


def view_statements() -> dict[str, str]:
    """Give the statement that makes each view, by its name."""
    page = resources.files("fieldapp.store.office").joinpath("views.sql").read_text("utf-8")
    return {it[1]: it[0] for it in _STATEMENT.finditer(page)}


def make_views(connection: Connection) -> None:
    """Make every view."""
    for statement in view_statements().values():
        connection.execute(text(statement))


def drop_views(connection: Connection) -> None:
    """Drop every view that is there."""
    for name in view_statements():
        connection.execute(text(f"DROP VIEW IF EXISTS {name}"))
