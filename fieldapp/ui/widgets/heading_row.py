"""One heading on the Shift board: how far people may go comes before how the round was."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words

__all__ = ["HeadingRow", "HeadingTitles", "Mark", "Words"]


class HeadingTitles(PairedWidget, BoxLayout):
    """What the columns of the board are. Only a wide screen needs it."""

    wide = BooleanProperty(True)


class HeadingRow(Touchable):
    """A heading: its entry line and state; the mark up to the face and the last round; the face.

    On a narrow screen the face stands under the heading's name.
    """

    heading = StringProperty()
    entry = StringProperty()
    entry_state = StringProperty()
    verdict = StringProperty()
    last_round = StringProperty()
    detail = StringProperty()
    face_m = StringProperty()
    wide = BooleanProperty(True)
