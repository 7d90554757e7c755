"""A repair before and after the work: two photos beside each other, aligned where they can be."""

from functools import partial
from typing import Any, Final

from kivy.properties import NumericProperty, ObjectProperty

from fieldapp.ui.photo.photo_cell import PhotoCell, taken_words
from fieldapp.ui.photo.textures import let_go, texture_of
from fieldapp.ui.photo.view_sheet import ViewSheet
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.known import Known
from fieldapp.work.rehab.before_after import Pair, Sides, pair_of, sides_of
from schemas.bodies.photo import Photo
from schemas.bodies.rehab import Rehab

__all__ = ["BeforeAfterSheet", "Key", "PhotoCell"]

EDGE_PX: Final = 1_200
"""The longer edge of each photo: two share the glass."""
ALIGNED: Final = _(
    "Aligned: scale, tilt and direction. The frames' middles lie on each other, "
    "whatever they show."
)
NOT_ALIGNED: Final = _("not aligned: measure both photos")


class BeforeAfterSheet(Sheet):
    """Shows a pair of photos of a repair; a touch on one opens it, to look closer or measure."""

    before: Any = ObjectProperty(None, allownone=True)
    after: Any = ObjectProperty(None, allownone=True)
    """Textures."""
    sides: Sides = ObjectProperty(Sides(), rebind=True)
    at_before = NumericProperty(0)
    at_after = NumericProperty(0)
    """Which of the photos of each side are shown."""

    def __init__(self, shell: Any, rehab_id: str, rehab: Rehab) -> None:
        super().__init__(place="full", title=_("Before and after"), note=_("it is being opened"))
        self._shell = shell
        self._look = partial(sides_of, shell.site, rehab_id, rehab)
        self._look_again()

    def other_before(self) -> None:
        """Show the next of the photos from before."""
        self.at_before = (self.at_before + 1) % len(self.sides.before)
        self._show()

    def other_after(self) -> None:
        """Show the next of the photos from after."""
        self.at_after = (self.at_after + 1) % len(self.sides.after)
        self._show()

    def view_before(self) -> None:
        """Open the photo from before."""
        if self.before is not None:
            self._view(self.sides.before[self.at_before])

    def view_after(self) -> None:
        """Open the photo from after, as it was taken."""
        if self.after is not None:
            self._view(self.sides.after[self.at_after])

    def words(self, side: str, photos: tuple[Known[Photo], ...], number: int) -> str:
        """Say which side a photo is of, and when it was taken."""
        if not photos:
            return side
        return f"{side}, {taken_words(self._shell, photos[number])}"

    def on_closed(self) -> None:
        self.before, self.after = None, None
        let_go()

    # --- inside -----------------------------------------------------------------------------

    def _view(self, photo: Known[Photo]) -> None:
        sheet = ViewSheet(self._shell, photo)
        sheet.bind(on_closed=lambda *_args: self._look_again())
        sheet.open()

    def _look_again(self) -> None:
        self._shell.do(self._look, then=self._take_sides, lane="long")

    def _take_sides(self, sides: Sides) -> None:
        """Begin with the best of each side; whoever has just measured one sees it again."""
        if self.parent is None or not sides.are_both:
            self.close()  # one of them was withdrawn meanwhile
            return
        self.at_before, self.at_after = (
            _again(self.sides.before, self.at_before, sides.before),
            _again(self.sides.after, self.at_after, sides.after),
        )
        self.sides = sides
        self._show()

    def _show(self) -> None:
        before, after = self.sides.before[self.at_before], self.sides.after[self.at_after]
        job = partial(pair_of, self._shell.site, before, after, EDGE_PX)
        self._shell.do(job, then=self._opened, otherwise=self.close, lane="long")

    def _opened(self, pair: Pair) -> None:
        if self.parent is None:
            return
        self.before, self.after = texture_of(pair.before), texture_of(pair.after)
        self.note = ALIGNED if pair.is_aligned else NOT_ALIGNED
        let_go()


def _again(known: tuple[Known[Photo], ...], number: int, now: tuple[Known[Photo], ...]) -> int:
    """Give where a photo stands now; the first where none was shown."""
    shown = known[number].id if known else ""
    return next((at for at, it in enumerate(now) if it.id == shown), 0)
