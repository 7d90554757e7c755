"""Every test of an office is tried on both databases."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from tests.office import Filled, Share, demo_share, fill
from tests.postgres import Postgres, postgres

SQLITE = "SQLite"
BOTH = (SQLITE, "PostgreSQL")
MakeAddress = Callable[[], str]


@dataclass(frozen=True)
class DemoOffice:
    """A database that was filled from the demo mine's share, and that share."""

    address: str
    share: Share
    filled: Filled


FilledOnce = Callable[[str], DemoOffice]


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


@pytest.fixture(scope="session")
def filled_once(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> FilledOnce:
    """Fill a database of a kind from the demo mine's share, when first it is asked for."""

    @cache
    def made(kind: str) -> DemoOffice:
        folder = tmp_path_factory.mktemp("filled")
        address = f"sqlite:///{folder}/office.db"
        if kind != SQLITE:
            started: Postgres = request.getfixturevalue("server")
            address = started.new_database()
        share = demo_share(folder / "share")
        return DemoOffice(address, share, fill(address, share.place))

    return made


@pytest.fixture(params=BOTH)
def demo_office(request: pytest.FixtureRequest, filled_once: FilledOnce) -> DemoOffice:
    """Give one to be asked only."""
    return filled_once(request.param)


@pytest.fixture
def filled(demo_office: DemoOffice) -> str:
    """Give the address of one to be asked only."""
    return demo_office.address


@pytest.fixture
def going_on(
    demo_office: DemoOffice, request: pytest.FixtureRequest, tmp_path: Path
) -> Iterator[DemoOffice]:
    """Give one of a test's own, to go on from there; its share is made of the same bytes."""
    share = demo_share(tmp_path / "share")
    if demo_office.address.startswith("sqlite"):
        file = shutil.copy(demo_office.address.removeprefix("sqlite:///"), tmp_path / "own.db")
        yield DemoOffice(f"sqlite:///{file}", share, demo_office.filled)
        return
    started: Postgres = request.getfixturevalue("server")
    address = started.copied(demo_office.address)
    yield DemoOffice(address, share, demo_office.filled)
    started.drop(address)
