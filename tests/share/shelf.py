"""The model of the photographs on a machine: with each entry that is stated one is taken."""

import hashlib
from collections.abc import Iterable, Mapping
from typing import cast

from schemas.bodies.receipt import Receipt
from schemas.canonical import JsonValue
from sync.holdings import Holdings
from sync.names import PhotoName
from sync.photo_shelf import PhotoShelf, is_of
from sync.trust import Trust
from tests.share.holdings import RECEIPT, ListHoldings, Numbers

MONTH = "203105"


class Photographing(ListHoldings):
    """What a tablet holds, with the photos that lie beside it; a copy of it has them too."""

    def __init__(self, seed: int, trust: Trust, numbers: Numbers) -> None:
        super().__init__(seed, trust, numbers)
        self.photos: dict[PhotoName, bytes] = {}
        self.sent: dict[PhotoName, float] = {}
        self.brought: set[PhotoName] = set()

    def _said(self, number: int) -> Mapping[str, JsonValue]:
        """Take a photo, and name it."""
        content = f"photo {number}".encode()
        name = PhotoName(MONTH, hashlib.sha256(content).hexdigest(), "jpg")
        self.photos[name] = content
        return {"photo": name.sha256}


class ListShelf(PhotoShelf):
    """The photos of a tablet in memory.

    Parameters
    ----------
    holdings : Photographing
        Where they are kept.
    """

    def __init__(self, holdings: Photographing) -> None:
        self._holdings = holdings

    def named(self) -> Iterable[PhotoName]:
        said = (it.body.get("photo") for it in self._holdings.entries)
        return (PhotoName(MONTH, str(sha256), "jpg") for sha256 in said if sha256)

    def held(self) -> frozenset[PhotoName]:
        return frozenset(self._holdings.photos)

    def content(self, name: PhotoName) -> bytes | None:
        content = self._holdings.photos.get(name)
        return content if content is not None and is_of(name, content) else None

    def take_in(self, name: PhotoName, content: bytes) -> None:
        self._holdings.photos[name] = content
        self._holdings.brought.add(name)

    def published(self) -> Mapping[PhotoName, float]:
        return dict(self._holdings.sent)

    def set_published(self, names: Iterable[PhotoName], at_s: float | None) -> None:
        for name in names:
            self._holdings.sent.pop(name, None)
            if at_s is not None:
                self._holdings.sent[name] = at_s

    def brought(self) -> frozenset[PhotoName]:
        return frozenset(self._holdings.brought)

    def acknowledged(self) -> frozenset[str]:
        receipts = (it for it in self._holdings.entries if it.kind == RECEIPT)
        return frozenset(
            sha256 for it in receipts for sha256 in Receipt.model_validate(it.body).photos
        )

    def acknowledge(self, names: Iterable[PhotoName]) -> None:
        said = [it.sha256 for it in names]
        self._holdings.state_something(RECEIPT, {"photos": cast("JsonValue", said)})


def shelf_of(holdings: Holdings) -> ListShelf:
    """Give the photos of a tablet in memory that takes some."""
    assert isinstance(holdings, Photographing)
    return ListShelf(holdings)
