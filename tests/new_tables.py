"""What the migrations make of an empty database: asked once a process, then said again.

Most tests begin with a new home, and Alembic takes a while over what is the same each time. A
database that holds something is carried forward by the migrations themselves.
"""

from collections.abc import Callable
from typing import Any

from sqlalchemy import Connection, event, text

from fieldapp.store import alembic_run
from fieldapp.store.alembic_run import TABLETS

RunMigrations = Callable[..., None]


def remember_new_tables() -> None:
    """From now on repeat statement by statement what the migrations first said."""
    alembic_run.run_migrations = _once(alembic_run.run_migrations)


def _once(run_migrations: RunMigrations) -> RunMigrations:
    said: list[tuple[str, Any]] = []

    def note(_connection: Connection, _cursor: object, words: str, given: Any, *_: object) -> None:
        said.append((words, given))

    def run(connection: Connection, whose: str = TABLETS) -> None:
        if whose != TABLETS or not _is_empty(connection):
            run_migrations(connection, whose)
        elif said:
            for words, given in said:
                connection.exec_driver_sql(words, given)
        else:
            event.listen(connection, "before_cursor_execute", note)
            run_migrations(connection, whose)
            event.remove(connection, "before_cursor_execute", note)

    return run


def _is_empty(connection: Connection) -> bool:
    return not connection.execute(text("SELECT count(*) FROM sqlite_master")).scalar_one()
