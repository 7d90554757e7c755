"""Pictures as textures. Decoded in the worker, put onto the glass by the main thread."""

import gc
from typing import Final

from kivy.graphics.texture import Texture
from PIL import Image

EDGE_PX: Final = 2_000
"""The longer edge of a photo on the glass. Old tablets take no more than 4,096."""


def texture_of(picture: Image.Image) -> Texture:
    """Put a picture in three colours onto the glass. Only on the main thread."""
    texture = Texture.create(size=picture.size, colorfmt="rgb")
    show(picture, texture)
    texture.flip_vertical()
    return texture


def show(picture: Image.Image, texture: Texture) -> None:
    """Show another picture of the same size in a texture that is there."""
    texture.blit_buffer(picture.tobytes(), colorfmt="rgb", bufferfmt="ubyte")


def let_go() -> None:
    """Have textures that nobody shows any more freed: they lie in circles of references."""
    gc.collect()
