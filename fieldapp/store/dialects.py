"""What SQLite and PostgreSQL say differently: a tablet keeps on the first, an office on either."""

import json
from collections.abc import Collection, Sequence
from typing import Any, Final, cast

from sqlalchemy import (
    ARRAY,
    ColumnElement,
    Connection,
    FromClause,
    Text,
    any_,
    bindparam,
    func,
    select,
)
from sqlalchemy import Table as CoreTable
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.sql.compiler import SQLCompiler
from sqlalchemy.sql.elements import SQLCoreOperations
from sqlalchemy.sql.functions import GenericFunction

from fieldapp.store.tables import Table

POSTGRESQL: Final = "postgresql"


class Likely(GenericFunction[bool]):
    """Tells SQLite that a condition mostly holds; PostgreSQL counts for itself."""

    name = "likely"
    inherit_cache = True


@compiles(Likely, POSTGRESQL)
def _no_hint(element: Likely, compiler: SQLCompiler, **how: Any) -> str:
    return compiler.process(element.clauses, **how)


def is_postgresql(connection: Connection) -> bool:
    """Tell whether a connection leads to PostgreSQL, not to SQLite."""
    return connection.dialect.name == POSTGRESQL


def insert_or(connection: Connection, table: type[Table] | CoreTable) -> sqlite.Insert:
    """Give an INSERT that can say what becomes of a row that is there already."""
    if is_postgresql(connection):
        return cast("sqlite.Insert", postgresql.insert(table))  # alike in all that is used of it
    return sqlite.insert(table)


def is_one_of(
    connection: Connection, column: SQLCoreOperations[Any], texts: Collection[str]
) -> ColumnElement[bool]:
    """Give the condition that a column is one of many texts, handed over as one value."""
    if is_postgresql(connection):
        return column == any_(bindparam(None, list(texts), ARRAY(Text)))
    one_value = func.json_each(json.dumps(list(texts))).table_valued("value")
    return column.in_(select(one_value.c.value))


def put_rows(
    connection: Connection,
    table: FromClause,
    columns: Sequence[str],
    rows: Sequence[tuple[Any, ...]],
) -> None:
    """Write many new rows in the quickest way that the database has.

    Parameters
    ----------
    connection : Connection
        The caller's transaction.
    table : FromClause
        Where they belong.
    columns : sequence of str
        The columns that each row fills, in its order.
    rows : sequence of tuple
        None of them may be there already.
    """
    if not rows:
        return
    quote = connection.dialect.identifier_preparer.quote
    into = f"{quote(table.description)} ({', '.join(map(quote, columns))})"
    if not is_postgresql(connection):
        places = ", ".join("?" * len(columns))
        connection.exec_driver_sql(f"INSERT INTO {into} VALUES ({places})", list(rows))  # noqa: S608
        return
    driver: Any = connection.connection.driver_connection
    kinds = [_POSTGRES_KINDS[table.c[it].type.python_type] for it in columns]
    with driver.cursor() as cursor, cursor.copy(f"COPY {into} FROM STDIN (FORMAT BINARY)") as copy:
        copy.set_types(kinds)
        for row in rows:
            copy.write_row(row)


_POSTGRES_KINDS = {str: "text", bytes: "bytea", bool: "bool", int: "int8", float: "float8"}
