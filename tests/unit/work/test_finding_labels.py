"""From a photo of a label, or from what somebody typed, to the thing that it is on."""

from pathlib import Path

import pytest
from PIL import Image

from fieldapp.report.square_code import square_code_png
from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.finding_labels import NoLabelSeen, find_in_photo, find_typed
from fieldapp.work.labels import NotKnownHere
from fieldapp.work.photo.square_codes import LOOKS
from schemas.short_id import NotOurs, RoundSheetRead, ShortIdUnread, short_id
from tests.unit.work.conftest import Shift


def shown(folder: Path, *payloads: str) -> Path:
    """Write a photo in which these square codes stand beside each other."""
    photo = Image.new("L", (400 * max(len(payloads), 1), 400), 255)
    for number, payload in enumerate(payloads):
        (folder / "one.png").write_bytes(square_code_png(payload))
        photo.paste(Image.open(folder / "one.png"), (400 * number + 60, 60))
    photo.save(folder / "photo.jpg")
    return folder / "photo.jpg"


def payload(shift: Shift, name: str) -> str:
    return short_id("heading", shift.place(name).id).payload


def test_a_photo_of_a_label_leads_to_the_thing(shift: Shift, tmp_path: Path) -> None:
    watched: list[int] = []
    photo = shown(tmp_path, *[payload(shift, MAIN)] * 2)
    (found,) = find_in_photo(shift.site, photo, lambda done, _of: watched.append(done))

    assert found.id == shift.place(MAIN).id
    assert watched == []  # read at once: nobody waits


def test_two_labels_in_sight_are_two_things(shift: Shift, tmp_path: Path) -> None:
    photo = shown(tmp_path, payload(shift, MAIN), payload(shift, READY))

    assert {it.name for it in find_in_photo(shift.site, photo)} == {MAIN, READY}


def test_a_label_beside_a_code_from_elsewhere_is_taken(shift: Shift, tmp_path: Path) -> None:
    photo = shown(tmp_path, "https://example.invalid/buy", payload(shift, MAIN))

    assert [it.name for it in find_in_photo(shift.site, photo)] == [MAIN]


@pytest.mark.parametrize(
    ("said", "trouble"),
    [
        ("https://example.invalid/buy", NotOurs),
        ("LR1:S/7K3Q9XTR/4F2A91BC77E0/5", RoundSheetRead),
        ("LR1:D/7K3Q9XTR/5", ShortIdUnread),
        ("LR1:D/7K3Q9XTR/M", NotKnownHere),
    ],
    ids=["not ours", "a round sheet", "misprinted", "another mine's"],
)
def test_what_leads_nowhere_says_why(
    said: str, trouble: type[Exception], shift: Shift, tmp_path: Path
) -> None:
    with pytest.raises(trouble):
        find_in_photo(shift.site, shown(tmp_path, said))


def test_a_photo_without_a_label_says_what_to_do_after_every_look(
    shift: Shift, tmp_path: Path
) -> None:
    watched: list[tuple[int, int]] = []
    with pytest.raises(NoLabelSeen):
        find_in_photo(shift.site, shown(tmp_path), lambda *step: watched.append(step))

    assert watched == [(done, LOOKS) for done in range(1, LOOKS + 1)]


def test_a_person_stops_it_between_two_looks(shift: Shift, tmp_path: Path) -> None:
    def stop(done: int, _of: int) -> None:
        if done == 2:
            raise InterruptedError

    with pytest.raises(InterruptedError):
        find_in_photo(shift.site, shown(tmp_path), stop)


def test_what_was_typed_leads_there_too(shift: Shift) -> None:
    place = shift.place(MAIN).id
    readable = short_id("heading", place).readable

    assert [it.id for it in find_typed(shift.site, readable.lower())] == [place]
    with pytest.raises(ShortIdUnread):
        find_typed(shift.site, readable[:-1])
