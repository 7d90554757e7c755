"""Every kind of entry and the model of its body.

A new kind: one module, one line here, one sample in `tests/reference/entries/`.
"""

from typing import Final

from schemas.bodies.bad_file import BadFile
from schemas.bodies.batch import Batch
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.clock_note import ClockNote
from schemas.bodies.damage import Damage
from schemas.bodies.deviation import Deviation
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.intersection import Intersection
from schemas.bodies.key_request import KeyRequest
from schemas.bodies.looked_into import LookedInto
from schemas.bodies.person import Person
from schemas.bodies.photo import Photo
from schemas.bodies.photo_marks import PhotoMarks
from schemas.bodies.photo_measurement import PhotoMeasurement
from schemas.bodies.receipt import Receipt
from schemas.bodies.rehab import Rehab
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.bodies.survey_peg import SurveyPeg
from schemas.bodies.tablet import Tablet
from schemas.bodies.told import Told
from schemas.bodies.walk import Walk
from schemas.bodies.withdrawal import Withdrawal
from schemas.part import Part
from schemas.standard import Standard

__all__ = ["BODIES"]

BODIES: Final[dict[str, type[Part]]] = {
    "heading": Heading,
    "standard": Standard,
    "round": Round,
    "sign_off": SignOff,
    "event": Event,
    "entry_notice": EntryNotice,
    "deviation": Deviation,
    "batch": Batch,
    "person": Person,
    "tablet": Tablet,
    "withdrawal": Withdrawal,
    "receipt": Receipt,
    "bad_file": BadFile,
    "clock_note": ClockNote,
    "photo": Photo,
    "photo_marks": PhotoMarks,
    "photo_measurement": PhotoMeasurement,
    "key_request": KeyRequest,
    "damage": Damage,
    "rehab": Rehab,
    "survey_peg": SurveyPeg,
    "walk": Walk,
    "bolt_test": BoltTest,
    "looked_into": LookedInto,
    "intersection": Intersection,
    "told": Told,
}
