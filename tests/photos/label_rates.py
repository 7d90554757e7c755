"""How often a label is read from a photo: `python3 -m tests.photos.label_rates` prints it all."""

import sys
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from fieldapp.report.label.form import PHOTO_WIDE_PX
from fieldapp.work.photo.square_codes import looks
from tests.photos.labels_seen import CODE, VIEWS, View, write

PHOTOS: Final = 20


@dataclass(frozen=True)
class Rate:
    """Of so many photos, how many the first look read, and how many any look."""

    view: View
    photos: int
    at_once: int
    at_all: int

    @property
    def line(self) -> str:
        """Write a line of the table, in per cent."""
        at_once, at_all = (round(100 * it / self.photos) for it in (self.at_once, self.at_all))
        return f"{self.view.words:<62} {at_once:>7} {at_all:>6}"


def rate(view: View, photos: int = PHOTOS, wide_px: int = PHOTO_WIDE_PX) -> Rate:
    """Read so many photographs of a view, each of its own seed."""
    with TemporaryDirectory() as folder:
        tried = [_first_look(write(view, it, Path(folder), wide_px)) for it in range(photos)]
    return Rate(view, photos, tried.count(1), sum(it > 0 for it in tried))


def _first_look(photo: Path) -> int:
    """Give the number of the look that read the label, 0 where none did."""
    for number, texts in enumerate(looks(photo), start=1):
        if CODE.payload in texts:
            return number
    return 0


def main() -> None:
    """Print the table."""
    said = f"{PHOTOS} photographs of 12 megapixels each; modules of 1.8 mm, two codes a label."
    sys.stdout.write(f"{said}\n\n{'a label from':<62} {'at once':>7} {'at all':>6}, %\n")
    for view in VIEWS:
        sys.stdout.write(f"{rate(view).line}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
