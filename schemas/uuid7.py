"""Names of things: UUID version 7 (RFC 9562), sorted by when they were made."""

from uuid import UUID

RANDOM_BYTES = 10
_LARGEST_MS = 2**48 - 1


def uuid7(made_at_ms: int, random_bytes: bytes) -> UUID:
    """Make a UUID version 7 out of a time and chance, both given.

    Parameters
    ----------
    made_at_ms : int
        Milliseconds since 1970-01-01 UTC, below 2^48.
    random_bytes : bytes
        Ten bytes from the system's source of randomness; 74 of their bits are used.
    """
    if not 0 <= made_at_ms <= _LARGEST_MS:
        raise ValueError(f"{made_at_ms} ms does not fit in 48 bits")
    if len(random_bytes) != RANDOM_BYTES:
        raise ValueError(f"{RANDOM_BYTES} random bytes are needed, not {len(random_bytes)}")
    chance = int.from_bytes(random_bytes, "big")
    before_variant = chance >> 62 & 0xFFF
    after_variant = chance & (2**62 - 1)
    return UUID(int=made_at_ms << 80 | 7 << 76 | before_variant << 64 | 2 << 62 | after_variant)
