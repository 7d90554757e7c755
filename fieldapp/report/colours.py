"""Colours by meaning, for screen and paper alike, and how well they can be told apart.

`DARK` is for underground, `BRIGHT` for reflections and the surface, `PAPER` for what is
printed. Whoever paints asks a palette for a meaning ("rework"), never for a colour.
"""

from dataclasses import dataclass, fields

RGB = tuple[float, float, float]

LINEAR_BELOW = 0.04045
"""Where the sRGB curve turns from a line into a power (IEC 61966-2-1; WCAG 2.2 as of 2021)."""


@dataclass(frozen=True)
class Palette:
    """One colour for each meaning, as `#RRGGBB`."""

    ground: str
    panel: str
    key: str
    key_pressed: str
    outline: str
    faint: str
    text: str
    quiet: str
    lamp: str
    lamp_ink: str
    accept: str
    rework: str
    no_entry: str
    measures: str
    mark_ink: str

    def rgb(self, meaning: str) -> RGB:
        """Give the colour of a meaning as three numbers from 0 to 1."""
        if meaning not in MEANINGS:
            raise ValueError(f"{meaning!r} is no meaning of a colour; there are {MEANINGS}")
        return rgb(getattr(self, meaning))


MEANINGS = tuple(field.name for field in fields(Palette))

DARK = Palette(
    ground="#0E1215",
    panel="#182026",
    key="#26323A",
    key_pressed="#3D4D58",
    outline="#71828D",
    faint="#33414B",
    text="#F4F1E8",
    quiet="#B4BFC7",
    lamp="#FFD166",
    lamp_ink="#0E1215",
    accept="#5FE0B7",
    rework="#FFB81C",
    no_entry="#FF8A70",
    measures="#7CC0FF",
    mark_ink="#0E1215",
)

BRIGHT = Palette(
    ground="#E9EAE6",
    panel="#FBFAF6",
    key="#FFFFFF",
    key_pressed="#C3CDD4",
    outline="#55636D",
    faint="#B9C2C8",
    text="#0E1215",
    quiet="#36434C",
    lamp="#123F73",
    lamp_ink="#FFFFFF",
    accept="#00614A",
    rework="#8A4300",
    no_entry="#9C1F10",
    measures="#0B5596",
    mark_ink="#FFFFFF",
)

PAPER = Palette(
    ground="#FFFFFF",
    panel="#FFFFFF",
    key="#FFFFFF",
    key_pressed="#DDDDDD",
    outline="#55636D",
    faint="#C9D0D5",
    text="#0E1215",
    quiet="#36434C",
    lamp="#123F73",
    lamp_ink="#FFFFFF",
    accept="#00614A",
    rework="#8A4300",
    no_entry="#9C1F10",
    measures="#0B5596",
    mark_ink="#FFFFFF",
)

MARK_COLOURS = {
    "accept": "accept",
    "fix this shift": "rework",
    "measure again": "measures",
    "not looked at": "quiet",
    "rework": "rework",
    "no entry": "no_entry",
}
"""The meaning that colours the mark of each verdict. The shape says the same without it."""


def rgb(colour: str) -> RGB:
    """Give `#RRGGBB` as three numbers from 0 to 1."""
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red / 255, green / 255, blue / 255


def luminance(colour: RGB) -> float:
    """Give the relative luminance of an sRGB colour, 0 for black to 1 for white.

    Parameters
    ----------
    colour : RGB
        Red, green and blue. [1], 0 to 1

    Returns
    -------
    float
        Relative luminance. [1], 0 to 1

    Source
    ------
    WCAG 2.2 (W3C Recommendation, 2023), definition "relative luminance".
    """
    red, green, blue = (
        part / 12.92 if part <= LINEAR_BELOW else ((part + 0.055) / 1.055) ** 2.4
        for part in colour
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: RGB, other: RGB) -> float:
    """Give the contrast ratio of two colours, 1 for the same to 21 for black on white.

    Parameters
    ----------
    one, other : RGB
        Red, green and blue, in either order. [1], 0 to 1

    Returns
    -------
    float
        Contrast ratio. [1], 1 to 21

    Source
    ------
    WCAG 2.2 (W3C Recommendation, 2023), definition "contrast ratio".
    """
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)
