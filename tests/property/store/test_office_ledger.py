"""An office's ledger answers as a plain list would, on SQLite and on PostgreSQL."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import text

from fieldapp.store.ledger import write_entries
from fieldapp.store.office import Office, open_office
from fieldapp.store.office.office_ledger import LEDGER
from schemas.entry import Entry
from sync.ledger import Kept
from tests.made import entry, thing_id
from tests.postgres import postgres
from tests.stand_ins import ListLedger

KINDS = ("round", "heading")
THINGS = 4
names = st.sampled_from([None, "A", "B", thing_id(2), 7, "a\0b", "x" * 500])
bodies = st.fixed_dictionaries(
    {"heading": names, "round": st.sampled_from([None, thing_id(1), 2])}
)
made = st.tuples(
    st.integers(0, 20), st.sampled_from(KINDS), st.lists(st.integers(0, 8), max_size=2), bodies
)


@pytest.fixture(scope="module", params=["SQLite", "PostgreSQL"])
def office(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Office]:
    if request.param == "SQLite":
        folder: Path = tmp_path_factory.mktemp("office")
        with open_office(f"sqlite:///{folder}/office.db") as opened:
            yield opened
        return
    with postgres() as server, open_office(server.new_database()) as opened:
        yield opened


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(made, max_size=12))
def test_an_offices_ledger_answers_as_a_list(
    office: Office, statements: list[tuple[int, str, list[int], dict[str, object]]]
) -> None:
    model, entries = ListLedger(), list[Entry]()
    for number, kind, of, body in statements:
        parents = tuple(dict.fromkeys(entries[it].revision for it in of if it < len(entries)))
        said: dict[str, object] = dict(body)
        entries.append(
            entry(number, said, kind=kind, thing=number % THINGS, parents=parents)  # type: ignore[arg-type]
        )
    model.add(entries)
    _empty(office)
    with office.database.writing() as connection:
        write_entries(connection, entries, origin="a tablet")

    ledger = office.ledger
    assert [it.entry for it in ledger.after(0)] == model.entries
    assert _places(ledger.after(0)) == sorted(_places(ledger.after(0)))
    for kind in KINDS:
        assert list(ledger.of_kind(kind)) == list(model.of_kind(kind))
        assert ledger.heads(kind) == model.heads(kind)
        for heading in ("A", "B", None):
            assert list(ledger.naming(kind, "heading", heading)) == list(
                model.naming(kind, "heading", heading)
            )
    for number in range(THINGS):
        thing = entry(number).id
        assert ledger.of_thing(thing) == model.of_thing(thing)
    assert ledger.newest_made_at() == model.newest_made_at()


def _empty(office: Office) -> None:
    with office.database.writing() as connection:
        for table in (LEDGER, "entry_parent"):
            connection.execute(text(f"DELETE FROM {table}"))  # noqa: S608 - names of ours


def _places(kept: Iterator[Kept]) -> list[int]:
    return [it.sequence for it in kept]
