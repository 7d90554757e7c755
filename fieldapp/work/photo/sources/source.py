"""What a source of photos does. It only ever gives files; `photographs` reads and keeps them."""

from pathlib import Path
from typing import Protocol


class PhotoSource(Protocol):
    """Somewhere that photos come from."""

    def photos(self) -> tuple[Path, ...]:
        """Give the files that can be taken now, the newest first. May wait for a device.

        Raises
        ------
        Trouble
            The source is gone or answers nothing.
        """
