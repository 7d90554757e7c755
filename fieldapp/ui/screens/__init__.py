"""The screens: each is one .py and one .kv of the same name, listed here."""

from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.screens.bolt_test import BoltTestScreen
from fieldapp.ui.screens.bolt_tests import BoltTestsScreen
from fieldapp.ui.screens.condition_walk import ConditionWalkScreen
from fieldapp.ui.screens.damage import DamageScreen
from fieldapp.ui.screens.entry import EntryScreen
from fieldapp.ui.screens.find_label import FindLabelScreen
from fieldapp.ui.screens.intersection import IntersectionScreen
from fieldapp.ui.screens.intersections import IntersectionsScreen
from fieldapp.ui.screens.rehab_list import RehabListScreen
from fieldapp.ui.screens.review import ReviewScreen
from fieldapp.ui.screens.round import RoundScreen
from fieldapp.ui.screens.settings import SettingsScreen
from fieldapp.ui.screens.share_folder import ShareFolderScreen
from fieldapp.ui.screens.shift_board import ShiftBoardScreen
from fieldapp.ui.screens.sign_in import SignInScreen
from fieldapp.ui.screens.standard import StandardScreen
from fieldapp.ui.screens.standard_editor import StandardEditorScreen
from fieldapp.ui.screens.trend import TrendScreen
from fieldapp.ui.screens.trends import TrendsScreen

SCREENS: tuple[type[PairedScreen], ...] = (
    ShiftBoardScreen,
    RoundScreen,
    ReviewScreen,
    EntryScreen,
    FindLabelScreen,
    ConditionWalkScreen,
    DamageScreen,
    RehabListScreen,
    TrendsScreen,
    TrendScreen,
    BoltTestsScreen,
    BoltTestScreen,
    IntersectionsScreen,
    IntersectionScreen,
    StandardScreen,
    StandardEditorScreen,
    ShareFolderScreen,
    SettingsScreen,
    SignInScreen,
)
"""In the order of the menu."""
