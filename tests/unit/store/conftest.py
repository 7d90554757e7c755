"""A store in an empty folder."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.store import Store, open_store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path) as opened:
        yield opened
