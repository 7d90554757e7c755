"""A small framed word that stays in sight on every screen."""

from kivy.properties import BooleanProperty, StringProperty

from fieldapp.ui.widgets.words import Words


class Badge(Words):
    """Shows what it was `told`, else `look.badge`; nothing when there is neither."""

    told = StringProperty()
    shown = BooleanProperty(True)
