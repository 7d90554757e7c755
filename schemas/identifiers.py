"""Ids, hashes, keys and signatures as they are written down: lower case, of one length."""

from typing import Annotated

from pydantic import Field

PublicKey = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
"""Ed25519, in hexadecimal."""
Signature = Annotated[str, Field(pattern="^[0-9a-f]{128}$")]
"""Ed25519, in hexadecimal."""
Sha256 = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
ShortHash = Annotated[str, Field(pattern="^[0-9a-f]{16}$")]
"""The first 16 hexadecimal digits of a SHA-256."""
TabletId = Annotated[str, Field(pattern="^[a-z2-7]{16}$")]
"""The first 80 bits of the SHA-256 of a tablet's public key, in base 32."""
SegmentNumber = Annotated[int, Field(ge=1, le=99_999_999)]
"""A sealed segment's place in its tablet's row."""
