"""Where a class is put up, and what is asked before anybody looks at a bolt."""

from typing import Final

from fieldapp.assess.standard_check.faults import metres
from fieldapp.assess.standard_check.shape_rules import supported_m
from fieldapp.assess.standard_words.section import ClassSection, Line, Lines, limit_line
from schemas.limits import Trigger
from schemas.standard import SupportClass

_GROUND: Final = {
    "wetter": "wetter than expected",
    "fault or wedge": "cut by a fault or a wedge",
    "noise": "noisy",
    "spalling": "spalling",
}


def _place(support_class: SupportClass) -> Lines:
    shape = support_class.profile
    walls = metres(shape.wall_height_m)
    yield Line(f"{support_class.used_for}.")
    if shape.shape == "arch":
        crown = metres(shape.wall_height_m + shape.rise_m)
        yield Line(f"Arch {metres(shape.width_m)} wide, walls {walls}, {crown} to the crown.")
    else:
        yield Line(f"Flat back {metres(shape.width_m)} wide, {walls} above the floor.")
    length_m = supported_m(support_class)
    rock = "" if length_m is None else f": {metres(length_m)} of rock in a row"
    from_m = metres(shape.supported_from_m)
    yield Line(f"Supported from {from_m} above the floor on both walls{rock}.")


def _before(support_class: SupportClass) -> Lines:
    limits = support_class.limits
    for trigger in limits.ground_condition.triggers:
        yield _trigger(trigger)
    yield limit_line("Barred down before bolting, and again after it.", limits.barring_down)
    yield limit_line("Face scaled, and supported as required.", limits.face_made_safe)
    yield limit_line("Misfires and butts looked for, none found.", limits.misfires_and_butts)
    yield limit_line("The bolter's own check is done.", limits.bolter_check)
    yield limit_line("The last two old rows still stand as they should.", limits.old_rows)


def _trigger(trigger: Trigger) -> Line:
    told = f"Ground {_GROUND[trigger.condition]}: call {trigger.call}."
    breach = f"{trigger.breach} until the call is answered"
    if trigger.after_the_call == trigger.breach:
        breach = f"{trigger.breach}, also once the call is answered"
    elif trigger.after_the_call != "accept":
        breach += f", then {trigger.after_the_call}"
    return Line(told, breach, trigger.because)


SECTIONS: Final[tuple[ClassSection, ...]] = (
    ("The place", _place),
    ("Before the bolts", _before),
)
