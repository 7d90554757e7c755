"""Statements as SQLAlchemy puts them into SQL: once a process, not once a database.

The app opens one home and keeps what was compiled for it. Tests open thousands, and a fifth of
their time went into compiling for each what is the same for all.
"""

from sqlalchemy import Compiled, create_engine

from fieldapp.store.engine import Database


def compile_once() -> None:
    """From now on every home that is opened knows what was compiled for the ones before.

    An office's file names its tables in a way of its own, and does so by itself.
    """
    begin = Database.__init__
    compiled: dict[object, Compiled] = {}
    first = create_engine("sqlite://")
    first.connect().close()  # it asks SQLite what it can do when it first connects

    def begun(self: Database, *given: object, **named: object) -> None:
        begin(self, *given, **named)  # type: ignore[arg-type]
        if type(self) is Database:
            for engine in (self._write_engine, self._read_engine):
                engine.dialect = first.dialect
                engine.update_execution_options(compiled_cache=compiled)

    Database.__init__ = begun  # type: ignore[method-assign]
