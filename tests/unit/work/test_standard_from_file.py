"""A new revision taken from a file: as a whole, with everything that stands against it."""

import json
from pathlib import Path
from typing import Any

import pytest

from fieldapp.work.standard_editing import (
    NotReadFromFile,
    OtherStandard,
    StandardWork,
    begin_revision,
    changes,
    groups_of_class,
    open_revision,
    set_field,
    take_from_file,
    undo,
)
from schemas.canonical import Unreadable
from schemas.reading import Refused
from schemas.standard import Standard
from tests.unit.work.conftest import Shift

ENGINEER = "Geotechnical engineer"
SPACING = ("classes", 0, "pattern", "bolt_spacing_m")


def begun(shift: Shift) -> StandardWork:
    return begin_revision(shift.site, shift.who(ENGINEER))


def as_adopted(shift: Shift) -> Any:
    return json.loads(json.dumps(begun(shift).base))


def written(shift: Shift, folder: Path, **pattern: Any) -> Path:
    """The standard in force, in whose first class the pattern is another."""
    document = as_adopted(shift)
    document["classes"][0]["pattern"] |= pattern
    return as_file(folder, document)


def as_file(folder: Path, document: Any) -> Path:
    file = folder / "standard.json"
    file.write_text(json.dumps(document))
    return file


def taken(shift: Shift, file: Path) -> StandardWork:
    return take_from_file(shift.site, begun(shift), file, None)


def test_what_the_file_says_is_the_new_revision_with_its_own_number(
    shift: Shift, tmp_path: Path
) -> None:
    work = taken(shift, written(shift, tmp_path, row_spacing_m="0.85"))

    assert isinstance(work.standard, Standard)
    assert work.document["revision"] == work.base["revision"] + 1
    assert [it.after for it in changes(work.base, work.document)] == ["0.85"]


def test_it_is_on_the_disk_and_goes_away_with_one_undo(shift: Shift, tmp_path: Path) -> None:
    work = taken(shift, written(shift, tmp_path, row_spacing_m="0.85"))
    assert open_revision(shift.site) == work

    assert changes(work.base, undo(shift.site, work, None).document) == ()


def test_everything_that_is_refused_is_named_at_once_with_its_place(
    shift: Shift, tmp_path: Path
) -> None:
    file = written(
        shift, tmp_path, bolt_spacing_m="wide", row_spacing_m=None, bolts_per_row="many"
    )
    work = taken(shift, file)

    assert sorted(it.path for it in work.refusals) == [
        "$.classes[0].pattern.bolt_spacing_m",
        "$.classes[0].pattern.bolts_per_row",
        "$.classes[0].pattern.row_spacing_m",
    ]


def test_what_was_refused_is_put_right_field_by_field(shift: Shift, tmp_path: Path) -> None:
    work = taken(shift, written(shift, tmp_path, bolt_spacing_m="wide"))
    work = set_field(shift.site, work, SPACING, "1.3", None)

    assert work.refusals == ()


def test_a_part_that_the_file_leaves_out_can_be_filled_in(shift: Shift, tmp_path: Path) -> None:
    document = as_adopted(shift)
    del document["classes"][0]["pattern"]
    work = taken(shift, as_file(tmp_path, document))
    pattern = next(it for it in groups_of_class(work.document, 0) if it.title == "Pattern")
    work = set_field(shift.site, work, SPACING, "1.2", None)

    assert {it.value for it in pattern.fields} == {None}
    assert work.document["classes"][0]["pattern"] == {"bolt_spacing_m": "1.2"}


@pytest.mark.parametrize(
    ("where", "what"),
    [
        (("classes",), "D1"),
        (("classes",), []),
        (("classes", 0), 7),
        (("classes", 0, "code"), None),
        (("classes", 0, "pattern"), "square"),
        (("classes", 0, "pattern", "kind"), {"square": True}),
        (("classes", 0, "bolts"), {"RB24": 1}),
    ],
)
def test_a_file_without_the_shape_of_a_standard_is_refused_at_its_place(
    shift: Shift, tmp_path: Path, where: tuple[str | int, ...], what: Any
) -> None:
    document = as_adopted(shift)
    part = document
    for step in where[:-1]:
        part = part[step]
    part[where[-1]] = what
    with pytest.raises(Refused) as refused:
        taken(shift, as_file(tmp_path, document))

    assert refused.value.path.startswith("$.classes")
    assert changes(begun(shift).base, begun(shift).document) == ()


def test_another_standard_s_file_is_refused_by_its_code(shift: Shift, tmp_path: Path) -> None:
    with pytest.raises(OtherStandard) as refused:
        taken(shift, as_file(tmp_path, {**as_adopted(shift), "code": "S-9"}))

    assert (refused.value.other, refused.value.own) == ("S-9", "S-2")


def test_what_is_no_json_or_not_there_is_refused(shift: Shift, tmp_path: Path) -> None:
    file = tmp_path / "standard.json"
    file.write_text("{")
    with pytest.raises(Unreadable):
        taken(shift, file)
    file.unlink()
    with pytest.raises(NotReadFromFile):
        taken(shift, file)
