"""Support as two revisions judge it: that of its day, and the one in force now."""

from typing import Any

from fieldapp.assess.walk import Section
from fieldapp.work.both_standards import PlaceJudged, both_standards
from fieldapp.work.demo.story import READY
from fieldapp.work.standard_in_force import adopt, in_force
from schemas.standard import Standard
from tests.unit.work.conftest import Shift


def judged(shift: Shift, within: Section | None = None) -> tuple[PlaceJudged, ...]:
    return both_standards(shift.site, shift.place(READY).id, within)


def revise(shift: Shift, change: Any) -> None:
    """Adopt a revision in which something is demanded that was not."""
    shown = in_force(shift.site, shift.clock()).body
    document = shown.model_dump(mode="json", exclude_none=True)
    change(document)
    newer = {"revision": shown.revision + 1, "effective_from": shift.clock().isoformat()}
    engineer = shift.who("Geotechnical engineer")
    adopt(shift.site, Standard.model_validate(document | newer), engineer)


def test_old_ground_without_a_record_is_not_known_by_either(shift: Shift) -> None:
    old = judged(shift)[0]

    assert (old.round_number, old.then, old.now) == (None, None, None)
    assert not old.falls_short_now


def test_a_round_meets_the_revision_of_its_day_and_falls_short_of_a_stricter_one(
    shift: Shift,
) -> None:
    shift.sign(shift.look())
    shift.wait(days=30)

    def bolts_longer(document: Any) -> None:
        for it in document["classes"][0]["bolts"]:
            it["length_m"] = "3.0"

    revise(shift, bolts_longer)
    last = judged(shift)[-1]

    assert last.round_number == 65
    assert last.then is not None
    assert last.now is not None
    assert (last.then.standard, last.now.standard) == ("S-2 revision 5", "S-2 revision 6")
    assert last.then.words == "S-2 revision 5: accept"
    assert last.then.breaches == ()
    assert last.now.words.startswith("S-2 revision 6: no entry")
    assert last.now.breaches[0] == "Neighbouring bolts: no entry"
    assert last.falls_short_now


def test_while_nothing_was_revised_both_say_the_same(shift: Shift) -> None:
    shift.sign(shift.look())
    last = judged(shift)[-1]

    assert last.then == last.now
    assert not last.falls_short_now


def test_a_class_that_the_new_revision_has_no_more_is_not_known_by_it(shift: Shift) -> None:
    shift.sign(shift.look())
    shift.wait(days=1)

    def left_out(document: Any) -> None:
        document["classes"] = [it for it in document["classes"] if it["code"] != "D1"]
        pulled = {bolt["code"] for it in document["classes"] for bolt in it["bolts"]}
        for name in ("bolt_tests", "torque_tests"):
            rules = document.get(name, [])
            document[name] = [it for it in rules if it["bolt_type"] in pulled]
        prices = document["prices"]["bolts"]
        document["prices"]["bolts"] = [it for it in prices if it["bolt_type"] in pulled]

    revise(shift, left_out)
    last = judged(shift)[-1]

    assert last.now is not None
    assert last.now.words == "S-2 revision 6: not known, it has no such support class"
    assert last.falls_short_now


def test_only_what_lies_in_the_stretch_is_judged(shift: Shift) -> None:
    shift.sign(shift.look())
    places = judged(shift)
    joint_m = places[-1].ground.from_m

    assert judged(shift, Section(joint_m - 4, joint_m - 1)) == places[-2:-1]
    assert judged(shift, Section(joint_m, joint_m + 1)) == places[-1:]


def test_support_is_judged_as_it_stands_now_cured_long_since(shift: Shift) -> None:
    shift.sign(shift.look())
    shift.wait(days=400)
    last = judged(shift)[-1]

    assert last.now is not None
    assert last.now.assessment is not None
    assert last.now.assessment.as_at == shift.clock()
    assert last.now.assessment.cured_at is None
