"""A number that two people read to each other to be sure that two machines mean the same key."""

import hashlib

DIGITS = 12
_GROUP = 4


def check_number(key: str) -> str:
    """Give the check number of a public key: twelve digits of its SHA-256.

    Somebody who wants another key to have the same number tries some 10¹² keys.
    """
    digest = hashlib.sha256(b"lastrow check number 1\x00" + bytes.fromhex(key)).digest()
    return f"{int.from_bytes(digest) % 10**DIGITS:0{DIGITS}d}"


def in_groups(number: str) -> str:
    """Write a check number as it is read aloud: `4821 9913 0042`."""
    return " ".join(number[start : start + _GROUP] for start in range(0, len(number), _GROUP))


def is_check_number_of(key: str, typed: str) -> bool:
    """Whether what somebody typed is a key's check number, with or without gaps."""
    return "".join(typed.split()) == check_number(key)
