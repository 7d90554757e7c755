"""Reading square codes (QR) from a picture, as somebody photographed them."""

from io import BytesIO

from PIL import Image, UnidentifiedImageError

MOST_PIXELS = 50_000_000


def texts_in_picture(content: bytes) -> tuple[str, ...]:
    """Give what the square codes in a picture say; nothing where it is no picture."""
    import zxingcpp

    try:
        with Image.open(BytesIO(content)) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                return ()
            grey = picture.convert("L")
    except (UnidentifiedImageError, OSError, Image.DecompressionBombError):
        return ()
    found = zxingcpp.read_barcodes(grey)
    return tuple(it.text for it in found if it.valid)
