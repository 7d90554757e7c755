"""How often a database is asked while something is done."""

from collections.abc import Callable

from sqlalchemy import Engine, event


def times_asked(job: Callable[[], object]) -> int:
    """Give how many statements any database is asked meanwhile; beginning one counts too."""
    asked: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_more: object) -> None:
        asked.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    try:
        job()
    finally:
        event.remove(Engine, "before_cursor_execute", note)
    return len(asked)
