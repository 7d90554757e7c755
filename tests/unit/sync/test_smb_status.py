"""What a server answers is told as what it means to a person."""

import pytest

from sync.folder import NotThere, NotYet, ShareFails, ShareFull, ShareGone, ShareReadOnly
from sync.smb_status import NotLetIn, trouble_of


@pytest.mark.parametrize(
    ("status", "told"),
    [
        (0xC0000034, NotThere),
        (0xC0000043, NotYet),
        (0xC000007F, ShareFull),
        (0xC0000044, ShareFull),
        (0xC0000022, ShareReadOnly),
        (0xC00000A2, ShareReadOnly),
        (0xC0000185, ShareFails),
        (0xC000006D, NotLetIn),
        (0xC00000CC, ShareGone),
        (0xC0000001, ShareGone),
    ],
)
def test_an_answer_is_told_as_what_it_means(status: int, told: type[Exception]) -> None:
    """Statuses and their names: [MS-ERREF] 2.3.1."""
    assert type(trouble_of(status, "smb://server/support", "heads")) is told


def test_an_answer_that_nobody_foresaw_is_repeated() -> None:
    assert "0xC0000001" in str(trouble_of(0xC0000001, "smb://server/support", "heads"))
