"""What a server that speaks SMB answers, and what that means to an exchange.

Source: [MS-ERREF] Windows Error Codes, 2.3.1 NTSTATUS Values.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from sync.folder import NotThere, NotYet, ShareFails, ShareFull, ShareGone, ShareReadOnly

COLLISION: Final = 0xC0000035
"""Something of that name is there already."""
DENIED: Final = 0xC0000022
"""The user may not; also said of replacing a file that anybody has open."""
HELD: Final = frozenset(
    {
        0xC0000043,  # sharing violation
        0xC0000054,  # file lock conflict
        0xC0000056,  # delete pending
        0xC0000121,  # cannot delete
        0xC0000243,  # user mapped file
    }
)
"""Somebody has the file open."""
_ABSENT = frozenset(
    {
        0xC000000F,  # no such file
        0xC0000034,  # object name not found
        0xC0000039,  # object path invalid
        0xC000003A,  # object path not found
        0xC00000BA,  # file is a directory
        0xC0000103,  # not a directory
        0xC0000225,  # not found
    }
)
_FULL = frozenset(
    {
        0xC0000044,  # quota exceeded
        0xC000007F,  # disk full
    }
)
_MAY_NOT = frozenset(
    {
        DENIED,
        0xC0000061,  # privilege not held
        0xC00000A2,  # media write protected
    }
)
_FAILS = frozenset(
    {
        0xC0000032,  # disk corrupt error
        0xC000003E,  # data error
        0xC000003F,  # CRC error
        0xC000009C,  # device data error
        0xC0000185,  # I/O device error
    }
)
_NOT_LET_IN = frozenset(
    {
        0xC0000064,  # no such user
        0xC000006A,  # wrong password
        0xC000006D,  # logon failure
        0xC000006E,  # account restriction
        0xC000006F,  # invalid logon hours
        0xC0000071,  # password expired
        0xC0000072,  # account disabled
        0xC000015B,  # logon type not granted
        0xC0000224,  # password must change
        0xC0000234,  # account locked out
    }
)
_NO_SUCH_SHARE = frozenset({0xC00000CC})  # bad network name


@dataclass(eq=False)
class NotLetIn(ShareGone):
    """The server does not let this user in."""

    happened = "The server of the shared folder {place} does not let this user in: {reason}."
    do_next = "Look at the user's name and password, then share again."


_MEANS: tuple[tuple[frozenset[int], Callable[[str, str], Exception]], ...] = (
    (_ABSENT, lambda _, path: NotThere(path)),
    (HELD, lambda _, path: NotYet(path)),
    (_FULL, lambda place, _: ShareFull(place)),
    (_MAY_NOT, lambda place, path: ShareReadOnly(f"{place}/{path}".rstrip("/"))),
    (_FAILS, lambda place, _: ShareFails(place)),
    (_NOT_LET_IN, lambda place, _: NotLetIn(place, "the name or the password is not right")),
    (_NO_SUCH_SHARE, lambda place, _: ShareGone(place, "the server has no share of that name")),
)


def trouble_of(status: int, place: str, path: str) -> Exception:
    """Say what a server's answer about a path of a share means."""
    for statuses, trouble in _MEANS:
        if status in statuses:
            return trouble(place, path)
    return ShareGone(place, f"the server answers 0x{status:08X}")
