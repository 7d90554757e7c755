"""Every test of an office is tried on both databases."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.office import Share, demo_share, fill
from tests.postgres import Postgres, postgres

BOTH = ("SQLite", "PostgreSQL")
MakeAddress = Callable[[], str]


@pytest.fixture(scope="session")
def server() -> Iterator[Postgres]:
    with postgres() as started:
        yield started


@pytest.fixture(params=BOTH)
def new_address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[MakeAddress]:
    """Give what names a database that is not there yet, or is empty."""
    made: list[str] = []
    if request.param == "SQLite":

        def a_file() -> str:
            made.append("")
            return f"sqlite:///{tmp_path}/office-{len(made)}.db"

        yield a_file
        return
    started: Postgres = request.getfixturevalue("server")

    def on_the_server() -> str:
        made.append(started.new_database())
        return made[-1]

    yield on_the_server
    for address in made:
        started.drop(address)


@pytest.fixture
def address(new_address: MakeAddress) -> str:
    return new_address()


@pytest.fixture
def share(tmp_path: Path) -> Share:
    return Share(tmp_path / "share")


@pytest.fixture(scope="session", params=BOTH)
def filled(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> str:
    """Give a database that was filled from the demo mine's share, to be asked only."""
    folder = tmp_path_factory.mktemp("filled")
    address = f"sqlite:///{folder}/office.db"
    if request.param != "SQLite":
        started: Postgres = request.getfixturevalue("server")
        address = started.new_database()
    fill(address, demo_share(folder / "share").place)
    return address
