"""Places and figures in the words of the trade, as findings and fix lists say them."""

from dataclasses import dataclass
from decimal import Decimal

from schemas.findings import Place
from schemas.numbers import STEP_M, rounded, text

_AT_THE_CROWN_M = 0.05
_TENTH = Decimal("0.1")
_HIGHEST_CHAINAGE_M = Decimal(99_999)
_FARTHEST_S_M = Decimal(60)
_WIDEST_M = Decimal(100)


def beside_crown(s_m: float) -> str:
    """Say where a place is across the drive.

    Parameters
    ----------
    s_m : float
        Distance along the rock from the crown, left negative. [m]

    Returns
    -------
    str
        "2.8 m right of the crown". [-]

    Source
    ------
    Common practice, no source.
    """
    if abs(s_m) < _AT_THE_CROWN_M:
        return "at the crown"
    side = "left" if s_m < 0 else "right"
    return f"{text(rounded(abs(s_m), _TENTH))} m {side} of the crown"


def row_name(number: int) -> str:
    """Say which row it is.

    Parameters
    ----------
    number : int
        1 and up from the joint; 0 is the last old row, -1 the one before it. [-]

    Returns
    -------
    str
        "row 2", "the last old row". [-]

    Source
    ------
    Common practice, no source.
    """
    if number > 0:
        return f"row {number}"
    return "the last old row" if number == 0 else "the old row before it"


def row_place(number: int, chainage_m: float | None = None, words: str | None = None) -> Place:
    """Give a whole row as a place.

    Parameters
    ----------
    number : int
        As in `row_name`. [-]
    chainage_m : float or None
        Its chainage, where known. [m]
    words : str or None
        Other words than the row's name. [-]

    Returns
    -------
    Place
        The row. [-]

    Source
    ------
    Common practice, no source.
    """
    at = None if chainage_m is None else _chainage(chainage_m)
    return Place(row=number, chainage_m=at, words=words or row_name(number))


def spot(number: int, place_m: tuple[float, float], zone: str, position: int | None) -> Place:
    """Give one bolt's place.

    Parameters
    ----------
    number : int
        Its row, as in `row_name`. [-]
    place_m : (chainage, s)
        Where it is. [m]
    zone : str
        The zone it is in. [-]
    position : int or None
        Its position from the left; None for a bolt that stands for none. [-]

    Returns
    -------
    Place
        "row 2, 2.8 m right of the crown". [-]

    Source
    ------
    Common practice, no source.
    """
    return Place(
        chainage_m=_chainage(place_m[0]),
        s_m=_s(place_m[1]),
        row=number,
        position=position,
        zone=zone,
        words=f"{row_name(number)}, {beside_crown(place_m[1])}",
    )


@dataclass(frozen=True)
class GapRows:
    """The rows that the middle of a gap lies between, numbered as in `row_name`."""

    outbye: int
    inbye: int | None
    """The same row where the middle lies in line with it; None where the face comes next."""
    end: str = "the face"
    """What comes next where no row does."""

    @property
    def barred(self) -> int:
        """The row that the gap keeps from being complete."""
        return self.outbye if self.inbye is None else self.inbye

    @property
    def words(self) -> str:
        """As people say it: "between row 1 and row 2", "beside row 2"."""
        if self.outbye == self.inbye:
            return f"beside {row_name(self.outbye)}"
        if self.inbye is None:
            return f"between {row_name(self.outbye)} and {self.end}"
        if self.inbye == 0:
            return "between the two old rows"
        return f"between {row_name(self.outbye)} and {row_name(self.inbye)}"


def gap_place(
    rows: GapRows, place_m: tuple[float, float], zone: str, diameter_m: Decimal
) -> Place:
    """Give the middle of a gap as a place.

    Parameters
    ----------
    rows : GapRows
        The rows that its middle lies between. [-]
    place_m : (chainage, s)
        Its middle. [m]
    zone : str
        The zone it is in. [-]
    diameter_m : Decimal
        How wide it is. [m]

    Returns
    -------
    Place
        "gap between row 1 and row 2, 0.7 m left of the crown". [m]

    Source
    ------
    Common practice, no source.
    """
    return Place(
        chainage_m=_chainage(place_m[0]),
        s_m=_s(place_m[1]),
        row=rows.barred,
        zone=zone,
        diameter_m=min(diameter_m, _WIDEST_M),
        words=f"gap {rows.words}, {beside_crown(place_m[1])}",
    )


def mesh_place(place_m: tuple[Decimal, Decimal], words: str) -> Place:
    """Give a place in the mesh.

    Parameters
    ----------
    place_m : (chainage, s)
        Where it is. [m]
    words : str
        What is there. [-]

    Returns
    -------
    Place
        "hole at 1386.4 m, 1.2 m left of the crown". [-]

    Source
    ------
    Common practice, no source.
    """
    at, s = min(place_m[0], _HIGHEST_CHAINAGE_M), min(place_m[1], _FARTHEST_S_M)
    said = f"{words} at {text(at)} m, {beside_crown(float(s))}"
    return Place(chainage_m=at, s_m=max(s, -_FARTHEST_S_M), words=said)


def counted(number: int, one: str, several: str | None = None) -> str:
    """Say a count.

    Parameters
    ----------
    number : int
        How many. [-]
    one : str
        The thing. [-]
    several : str or None
        Its plural, where an s won't do. [-]

    Returns
    -------
    str
        "1 bolt", "2 bolts". [-]

    Source
    ------
    English.
    """
    return f"{number} {one if number == 1 else several or one + 's'}"


def _chainage(value_m: float) -> Decimal:
    return min(max(rounded(value_m, STEP_M), Decimal(0)), _HIGHEST_CHAINAGE_M)


def _s(value_m: float) -> Decimal:
    return min(max(rounded(value_m, STEP_M), -_FARTHEST_S_M), _FARTHEST_S_M)
