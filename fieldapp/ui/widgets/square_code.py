"""A square code (QR) on the glass, black on white in either look, for another machine to read."""

from io import BytesIO

from kivy.core.image import Image as Pixels
from kivy.properties import StringProperty
from kivy.uix.image import Image

from fieldapp.report.square_code import square_code_png


class SquareCode(Image):
    """Shows what `payload` says, its edges sharp at any size."""

    payload = StringProperty()

    def on_payload(self, _code: object, payload: str) -> None:
        """Draw it."""
        png = square_code_png(payload) if payload else b""
        self.texture = Pixels(BytesIO(png), ext="png").texture if png else None
        if self.texture is not None:
            self.texture.mag_filter = "nearest"
