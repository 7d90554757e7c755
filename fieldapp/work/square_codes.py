"""Reading square codes (QR) from a picture, as somebody photographed them."""

from io import BytesIO

from PIL import Image

MOST_PIXELS = 50_000_000
KINDS = ("PNG", "JPEG")


def texts_in_picture(content: bytes) -> tuple[str, ...]:
    """Give what the square codes in a picture say; nothing where it is no picture."""
    import zxingcpp

    try:
        with Image.open(BytesIO(content), formats=KINDS) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                return ()
            grey = picture.convert("L")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return ()  # it is none, or torn: the library says so in many ways
    found = zxingcpp.read_barcodes(grey)
    return tuple(it.text for it in found if it.valid)
