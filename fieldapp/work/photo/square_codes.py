"""Reading square codes (QR) from a photo, as somebody took it: at one look, and with patience.

Most photos are read as they are. Blur, noise and little light need the picture put right first;
that takes longer, so a smaller copy is used, and whoever asks may stop between two looks.
"""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Final

import numpy as np
from PIL import Image, ImageFilter

from fieldapp.work.photo.file import photo_seen

FIRST_EDGE_PX: Final = 4_000
"""A photo of 12 megapixels is looked at whole."""
PATIENT_EDGE_PX: Final = 2_000
_NOISE: Final = 0.004
"""Of the signal's power: what a Wiener filter takes for noise. Tried on rendered labels."""


def looks(path: Path) -> Iterator[tuple[str, ...]]:
    """Yield what the square codes of a photo say, look after look, the quick one first.

    Raises
    ------
    NoPhoto
        The file is no photo that can be used.
    """
    photo = photo_seen(path, FIRST_EDGE_PX).picture.convert("L")
    yield _said(photo)
    yield _said(_sharpened(2, 250, photo))  # what is far away has no pixel to spare
    small = photo.copy()
    small.thumbnail((PATIENT_EDGE_PX, PATIENT_EDGE_PX), Image.Resampling.BOX)
    for put_right in _PUT_RIGHT:
        yield _said(put_right(small))
    for turn_deg, wider, higher in _FROM_ASIDE:
        yield _said(_stretched(photo, turn_deg, wider, higher))


def texts_in_photo(path: Path) -> tuple[str, ...]:
    """Give what the square codes of a photo say, by the first look that reads any.

    Raises
    ------
    NoPhoto
        The file is no photo that can be used.
    """
    return next((texts for texts in looks(path) if texts), ())


def _said(picture: Image.Image) -> tuple[str, ...]:
    import zxingcpp

    only = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    found = zxingcpp.read_barcodes(picture, formats=only)
    return tuple(dict.fromkeys(it.text for it in found if it.valid))


def _sharpened(radius_px: float, percent: int, picture: Image.Image) -> Image.Image:
    mask = ImageFilter.UnsharpMask(radius=radius_px, percent=percent, threshold=0)
    return picture.filter(mask)


def _deblurred(sigma_px: float, picture: Image.Image) -> Image.Image:
    """Undo a blur of that width, as far as noise lets it (Wiener's filter for a Gaussian)."""
    seen = np.asarray(picture, dtype=np.float32)
    high, wide = seen.shape
    down, across = np.fft.fftfreq(high)[:, None], np.fft.rfftfreq(wide)[None]
    blur = np.exp(-2 * np.pi**2 * sigma_px**2 * (across**2 + down**2))
    spectrum = np.fft.rfft2(seen - seen.mean()) * blur / (blur * blur + _NOISE)
    sharp = np.fft.irfft2(spectrum, s=seen.shape)
    darkest, lightest = np.percentile(sharp[::4, ::4], (1, 99))
    spread = (sharp - darkest) / max(lightest - darkest, 1e-6) * 255
    return Image.fromarray(spread.clip(0, 255).astype(np.uint8))


def _twice_as_large(picture: Image.Image) -> Image.Image:
    return picture.resize((picture.width * 2, picture.height * 2), Image.Resampling.BICUBIC)


def _stretched(picture: Image.Image, turn_deg: float, wider: float, higher: float) -> Image.Image:
    """Pull apart what was seen from far aside, along one way of the picture."""
    turned = picture.rotate(turn_deg, Image.Resampling.BILINEAR, expand=True)
    size = (round(turned.width * wider), round(turned.height * higher))
    return turned.resize(size, Image.Resampling.BILINEAR)


def _speckles_gone(picture: Image.Image) -> Image.Image:
    return picture.filter(ImageFilter.MedianFilter(5))


_PUT_RIGHT: Final[tuple[Callable[[Image.Image], Image.Image], ...]] = (
    partial(_sharpened, 3, 300),
    partial(_sharpened, 6, 400),
    partial(_deblurred, 1.5),
    partial(_deblurred, 3.0),
    partial(_deblurred, 5.0),
    _twice_as_large,
    _speckles_gone,
)
_FROM_ASIDE: Final = ((0, 2.0, 1.0), (0, 1.0, 2.0), (45, 1.8, 1.0), (45, 1.0, 1.8))
"""By how much it is turned [°], and stretched across and down."""
LOOKS: Final = 2 + len(_PUT_RIGHT) + len(_FROM_ASIDE)
