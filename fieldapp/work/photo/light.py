"""A photo made lighter for the eye alone. What is kept is never touched."""

from typing import Final

import numpy as np
from PIL import Image

DARKEST, LIGHTEST = 0.01, 0.99
"""Shares of the pixels that may turn black or white."""
_LIFT: Final = 0.7
"""Exponent by which what is dark is lifted. Common practice, no source."""


def stretched(picture: Image.Image) -> Image.Image:
    """Give a copy whose light reaches from black to white, and whose dark parts are lifted."""
    grey = np.asarray(picture.convert("L"))
    low, high = np.quantile(grey, (DARKEST, LIGHTEST))
    steps = (np.arange(256) - low) / max(high - low, 1.0)
    table = (np.clip(steps, 0, 1) ** _LIFT * 255).round().astype(np.uint8)
    return picture.point(table.tolist() * len(picture.getbands()))
