"""Making a new revision of the mine's standard from the last, and signing it."""

from fieldapp.work.standard_editing.changes import Change, changes
from fieldapp.work.standard_editing.compared import (
    CheckDiffers,
    JudgedDifferently,
    ToCompare,
    judged_differently,
    rounds_of_the_past_year,
)
from fieldapp.work.standard_editing.editing import (
    StandardTouch,
    StandardWork,
    begin_revision,
    discard,
    newest_of,
    open_revision,
    put_in,
    set_field,
    take_away,
    undo,
)
from fieldapp.work.standard_editing.fields import (
    Field,
    Group,
    Steps,
    groups_of_class,
    groups_of_mine,
    named,
    steps_of,
)
from fieldapp.work.standard_editing.from_file import (
    NotReadFromFile,
    OtherStandard,
    take_from_file,
)
from fieldapp.work.standard_editing.signing import NotYetSound, TooEarly, sign_revision
from fieldapp.work.standard_editing.titles import in_a_row

__all__ = [
    "Change",
    "CheckDiffers",
    "Field",
    "Group",
    "JudgedDifferently",
    "NotReadFromFile",
    "NotYetSound",
    "OtherStandard",
    "StandardTouch",
    "StandardWork",
    "Steps",
    "ToCompare",
    "TooEarly",
    "begin_revision",
    "changes",
    "discard",
    "groups_of_class",
    "groups_of_mine",
    "in_a_row",
    "judged_differently",
    "named",
    "newest_of",
    "open_revision",
    "put_in",
    "rounds_of_the_past_year",
    "set_field",
    "sign_revision",
    "steps_of",
    "take_away",
    "take_from_file",
    "undo",
]
