"""What lets go of its files when the block that opened it is left."""

from abc import ABC, abstractmethod
from typing import Self


class ClosedAtTheEnd(ABC):
    """Something that is opened with `with`, and closed however the block ends."""

    @abstractmethod
    def close(self) -> None:
        """Let go of what is open."""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_how_it_ended: object) -> None:
        self.close()
