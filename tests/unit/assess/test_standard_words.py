"""The standard as people read it: nothing that is demanded is left unsaid."""

from collections.abc import Iterator

import pytest
from pydantic import BaseModel

from fieldapp.assess.standard_words import class_in_words, mine_in_words, standard_in_words
from fieldapp.assess.standard_words.section import Section, counted, limit_line, listed
from schemas.limits import GroundLimit
from schemas.standard import Standard
from tests.standards import D1, O2, W3, changed, put, put_in


@pytest.fixture(scope="module")
def demo() -> Standard:
    return changed(lambda document: document)


def lines(sections: tuple[Section, ...], title: str) -> list[str]:
    return [
        line.demanded for section in sections if section.title == title for line in section.lines
    ]


@pytest.mark.parametrize(
    ("index", "title", "said"),
    [
        (
            D1,
            "Bolts",
            "9 in a row, 1.3 m apart (up to 1.4 m), rows 0.9 m apart (up to 1 m), square pattern.",
        ),
        (D1, "Bolts", "RB24: resin-grouted bar, 20 mm, 2.4 m long, plate 200 mm."),
        (D1, "Bolts", "With a loose plate RB24 still holds rock."),
        (O2, "Bolts", "With a loose plate PB24 holds nothing."),
        (O2, "Bolts", "Every other row is shifted by half a spacing and has 6 bolts."),
        (
            D1,
            "The place",
            "Supported from 1.5 m above the floor on both walls: 9.916 m of rock in a row.",
        ),
        (D1, "Mesh", "Laps of at least 300 mm and 3 openings."),
        (D1, "Mesh", "So each sheet advances 2.7 m along the drive at most."),
        (D1, "Mesh", "One panel carried 40 kN, pulled by a plate of 300 × 300 mm."),
        (
            O2,
            "What is looked at on the bolts",
            "Torque 200 to 330 N·m on the first bolt, every 10th and the last.",
        ),
        (O2, "Curing", "PB24 counts 1 h after it is in."),
        (
            W3,
            "Curing",
            "Shotcrete counts 4 h after it is sprayed and at 1 MPa, the later of both; "
            "nobody walks under it before.",
        ),
        (W3, "Shotcrete", "75 mm thick, 30 MPa in the end."),
        (
            D1,
            "The last row",
            "The last row is at most 1 m from the face, at the worst of left, middle, right.",
        ),
    ],
)
def test_a_class_is_said_in_plain_words(demo: Standard, index: int, title: str, said: str) -> None:
    assert said in lines(class_in_words(demo.classes[index]), title)


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("Corrosion", "A wire must be left with 70 % of its capacity; its zinc was 40 µm."),
        ("Condition walks", "Every 14 days where there is rust from grade 3."),
        (
            "Tests",
            "One more RB24 is pulled after each change of ground, change of batch or new crew.",
        ),
        ("Tests", "When one PB24 fails: the 4 nearest bolts tested and its row tested."),
    ],
)
def test_what_is_watched_in_old_support_is_said(demo: Standard, title: str, said: str) -> None:
    assert said in lines(mine_in_words(demo), title)


def test_a_class_without_mesh_says_nothing_of_it(demo: Standard) -> None:
    assert "Mesh" not in [section.title for section in class_in_words(demo.classes[W3])]


@pytest.mark.parametrize("index", [D1, O2, W3])
def test_every_limit_is_said_with_its_reason_and_its_breach(demo: Standard, index: int) -> None:
    support_class = demo.classes[index]
    said = [
        (line.because, line.breach)
        for section in class_in_words(support_class)
        for line in section.lines
    ]

    for name in type(support_class.limits).model_fields:
        limit = getattr(support_class.limits, name)
        if limit is None or isinstance(limit, GroundLimit):
            continue
        assert any(
            because == limit.because and breach.startswith(limit.breach)
            for because, breach in said
        ), name


def test_every_reason_in_the_standard_is_said(demo: Standard) -> None:
    said = {line.because for section in standard_in_words(demo) for line in section.lines}
    ground = {known.limits.ground_condition.because for known in demo.classes}
    cures = {bolt.curing.because for known in demo.classes for bolt in known.bolts if bolt.curing}
    sprayed = {known.shotcrete.curing.because for known in demo.classes if known.shotcrete}

    assert set(reasons(demo)) - said - ground - cures - sprayed == set()


def reasons(part: BaseModel) -> Iterator[str]:
    for name in type(part).model_fields:
        value = getattr(part, name)
        if name == "because":
            yield value
        for inside in value if isinstance(value, tuple) else (value,):
            if isinstance(inside, BaseModel):
                yield from reasons(inside)


def test_a_grave_step_that_starts_later_is_said(demo: Standard) -> None:
    gap = demo.classes[D1].limits.largest_gap

    assert limit_line("", gap).breach == "rework; no entry above 2.07 m"


@pytest.mark.parametrize(
    ("after_the_call", "breach"),
    [
        ("accept", "no entry until the call is answered"),
        ("rework", "no entry until the call is answered, then rework"),
        ("no entry", "no entry, also once the call is answered"),
    ],
)
def test_what_stands_after_a_call_is_said(after_the_call: str, breach: str) -> None:
    change = put(D1, "limits.ground_condition.triggers.1", after_the_call=after_the_call)
    before = class_in_words(changed(change).classes[D1])[1]

    assert (
        before.lines[1].demanded
        == "Ground cut by a fault or a wedge: call the geotechnical engineer."
    )
    assert before.lines[1].breach == breach


def test_the_rule_of_one_in_n_is_said() -> None:
    one_in_four = put(O2, "limits.torque", rule="first, then one in n", n=4)
    said = lines(
        class_in_words(changed(one_in_four).classes[O2]), "What is looked at on the bolts"
    )

    assert "Torque 200 to 330 N·m on the first bolt, then on one in 4." in said


@pytest.mark.parametrize(
    ("n", "said"), [(2, "2nd"), (3, "3rd"), (4, "4th"), (10, "10th"), (11, "11th"), (21, "21st")]
)
def test_every_nth_is_said_as_people_count(n: int, said: str) -> None:
    title = "What is looked at on the bolts"
    found = lines(class_in_words(changed(put(O2, "limits.torque", n=n)).classes[O2]), title)

    assert f"Torque 200 to 330 N·m on the first bolt, every {said} and the last." in found


def test_a_flat_back_is_said() -> None:
    flat = put(D1, "profile", shape="flat", rise_m="0", wall_height_m="4.5")
    place = lines(class_in_words(changed(flat).classes[D1]), "The place")

    assert "Flat back 5 m wide, 4.5 m above the floor." in place


def test_bolts_of_some_zones_say_which() -> None:
    walls = put(D1, "bolts.0", zones=["left wall", "right wall"])
    bolts = lines(class_in_words(changed(walls).classes[D1]), "Bolts")

    assert bolts[1].endswith("plate 200 mm in the left wall and right wall.")


def test_what_holds_in_the_whole_mine_is_said(demo: Standard) -> None:
    mine = mine_in_words(demo)

    assert lines(mine, "After an event")[1] == (
        "Seismic: nobody within 80 m in and out, for 12 h and until somebody has looked."
    )
    assert (
        lines(mine, "Condition walks")[0] == "Supported ground is walked at least every 30 days."
    )
    assert lines(mine, "Readings")[2] == (
        "A reading is within its limit when it lies 1.64 times its uncertainty inside."
    )


def test_a_mine_without_walks_says_nothing_of_them() -> None:
    titles = [section.title for section in mine_in_words(changed(put_in(walk=None)))]

    assert "Condition walks" not in titles


def test_the_whole_standard_says_whose_it_is_first(demo: Standard) -> None:
    first = standard_in_words(demo)[0]

    assert first.title == "S-2 revision 5: Ground support standard, Wrenfall"
    assert [line.demanded for line in first.lines] == [
        "For Wrenfall, approved by geotechnical engineer, Wrenfall.",
        "In force from 1 Feb 2025 00:00 UTC.",
        "A worked example: it can't sign a heading of a real mine.",
    ]


def test_english_counts_and_lists() -> None:
    assert (counted(1, "opening"), counted(3, "opening")) == ("1 opening", "3 openings")
    assert listed(["back"]) == "back"
    assert listed(["left wall", "back", "right wall"]) == "left wall, back and right wall"
