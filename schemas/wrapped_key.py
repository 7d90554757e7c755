"""A private key under a sign code: scrypt (RFC 7914) and ChaCha20-Poly1305 (RFC 8439).

The cost is set so that one try takes about a tenth of a second. That and the growing delays
of the store slow a guesser at the tablet; they do not stop somebody who took the file away:
a code of six digits is a million tries.
"""

import unicodedata
from dataclasses import dataclass
from typing import Annotated, Literal

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from schemas.canonical import Unreadable, canonical_bytes, parse_json
from schemas.identifiers import PublicKey
from schemas.signatures import SigningKey
from schemas.trouble import NotAllowed

SALT_BYTES = 16
NONCE_BYTES = 12
_CIPHER_KEY_BYTES = 32
RANDOM_BYTES = SALT_BYTES + NONCE_BYTES
COST = 2**16
"""scrypt's N: with r = 8 it takes 64 MB and, on a tablet, some 0.1 to 0.3 s a try."""


@dataclass(eq=False)
class WrongSignCode(NotAllowed):
    """The sign code does not open the key."""

    owner: str
    happened = "This is not the sign code of {owner}."
    kept = "Nothing was changed."
    do_next = "Enter the code again, or ask the records keeper for a new one."


def _power_of_two(number: int) -> int:
    if number & (number - 1):
        raise ValueError("it is no power of two")
    return number


class WrappedKey(BaseModel):
    """What is stored of a person's key; useless without the code.

    The cost parameters are bounded so that a damaged record can't stop the tablet.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    format: Literal[1] = 1
    owner: str
    public_key: PublicKey
    scrypt_n: Annotated[int, Field(ge=2, le=2**20), AfterValidator(_power_of_two)]
    scrypt_r: Annotated[int, Field(ge=1, le=16)] = 8
    scrypt_p: Annotated[int, Field(ge=1, le=4)] = 1
    salt: Annotated[str, Field(pattern="^[0-9a-f]{32}$")]
    nonce: Annotated[str, Field(pattern="^[0-9a-f]{24}$")]
    sealed: Annotated[str, Field(pattern="^[0-9a-f]{96}$")]

    def to_bytes(self) -> bytes:
        """Write it as canonical JSON."""
        return canonical_bytes(self.model_dump(mode="json"))


def read_wrapped_key(raw: bytes, *, source: str) -> WrappedKey:
    """Read what `WrappedKey.to_bytes` wrote; `Unreadable` when it is anything else."""
    value = parse_json(raw, source=source)
    try:
        return WrappedKey.model_validate(value)
    except ValidationError as error:
        first = error.errors(include_input=False)[0]
        path = ".".join(("$", *map(str, first["loc"])))
        raise Unreadable(source, path, first["msg"]) from error


def wrap(
    key: SigningKey, sign_code: str, *, owner: str, random_bytes: bytes, cost: int = COST
) -> WrappedKey:
    """Put a key under a sign code.

    Parameters
    ----------
    key : SigningKey
        The key to keep.
    sign_code : str
        What its owner will type.
    owner : str
        Whose key it is; bound to the record, so that keys can't be swapped between people.
    random_bytes : bytes
        28 bytes from the system's source of randomness: salt and nonce.
    cost : int
        scrypt's N, a power of two.
    """
    if len(random_bytes) != RANDOM_BYTES:
        raise ValueError(f"{RANDOM_BYTES} random bytes are needed, not {len(random_bytes)}")
    open_part = WrappedKey.model_construct(
        owner=owner,
        public_key=key.public_key,
        scrypt_n=cost,
        salt=random_bytes[:SALT_BYTES].hex(),
        nonce=random_bytes[SALT_BYTES:].hex(),
        sealed="",
    )
    sealed = _cipher(open_part, sign_code).encrypt(
        random_bytes[SALT_BYTES:], key.seed, _bound(open_part)
    )
    return WrappedKey.model_validate({**open_part.model_dump(), "sealed": sealed.hex()})


def unwrap(wrapped: WrappedKey, sign_code: str) -> SigningKey:
    """Take a key out with its sign code.

    Raises
    ------
    WrongSignCode
        Another code, or a record that somebody altered: the two can't be told apart.
    """
    try:
        seed = _cipher(wrapped, sign_code).decrypt(
            bytes.fromhex(wrapped.nonce), bytes.fromhex(wrapped.sealed), _bound(wrapped)
        )
    except InvalidTag as error:
        raise WrongSignCode(wrapped.owner) from error
    return SigningKey(seed)


def stretched(sign_code: str, salt: bytes, *, n: int, r: int, p: int) -> bytes:
    """Give the 32 bytes that scrypt makes of a code: slowly, to cost a guesser time."""
    typed = unicodedata.normalize("NFC", sign_code).encode("utf-8")
    return Scrypt(salt=salt, length=_CIPHER_KEY_BYTES, n=n, r=r, p=p).derive(typed)


def _cipher(wrapped: WrappedKey, sign_code: str) -> ChaCha20Poly1305:
    salt, cost = bytes.fromhex(wrapped.salt), wrapped.scrypt_n
    key = stretched(sign_code, salt, n=cost, r=wrapped.scrypt_r, p=wrapped.scrypt_p)
    return ChaCha20Poly1305(key)


def _bound(wrapped: WrappedKey) -> bytes:
    """Give what can't be altered without the code: everything but the sealed key itself."""
    return canonical_bytes(wrapped.model_dump(mode="json", exclude={"sealed"}))
