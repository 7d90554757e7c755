"""The rows of bolts: the two old ones, then 1, 2, 3 … standing under the row before."""

from collections.abc import Iterator

from fieldapp.work.demanded import (
    demanded_in_old_row,
    demanded_in_row,
    laps_in_round,
    places_in_round,
)
from fieldapp.work.questions.drawn import (
    Place,
    draw,
    drawn_in_row,
    places_drawn,
    spacing_drawn,
)
from fieldapp.work.questions.question import Asker, Choice, Question
from fieldapp.work.questions.readings import TAPED, LengthAsked, around, counting
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    OldRowConfirmed,
    RowAhead,
    RowCounted,
    RowsPlanned,
    SpacingRead,
    SpotAnswered,
)
from fieldapp.work.touches.touch import row_of
from schemas.bodies.round import LengthReading, PlateGap, SpacingSeen

PLATE_GAPS: tuple[PlateGap, ...] = ("tight", "< 10 mm", "10–20 mm", "> 20 mm")


def old_rows(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield a question for each of the two old rows, the farther from the face first."""
    for index, row in enumerate(work.seen.old_rows):
        demanded = demanded_in_old_row(work, index)
        behind = len(work.seen.old_rows) - index

        def counted(plates: int, index: int = index) -> AnyTouch:
            return OldRowConfirmed(at=asker.at, by=asker.by, index=index, plates=plates)

        yield Question(
            key=f"old row {index}",
            stage="old rows",
            ask=f"Old row at {row.chainage_m} m: how many plates, seated and in place?",
            hint="The blast may have loosened it. Look before you count it.",
            choices=tuple(
                Choice(str(n), counted(n), "plates")
                for n in _counts_around(demanded, f"{work.round_id} old {index}")
            ),
            digits=counting(counted, unit="plates", limit="as many as you counted", most=60),
            answered=row.confirmed is not None and f"old row {index}" not in asker.again,
            row=1 - behind,
            checks=("old_rows",),
        )


def rows(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield what each row is asked: how far ahead, how many plates, one spacing."""
    places = places_drawn(work)
    for number in range(1, work.seen.rows_planned + 1):
        yield _ahead(work, asker, number)
        yield _count(work, asker, number, places)
        yield from _spacing(work, asker, number)


def drawn(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the three bolts that the app draws, each once its row is counted."""
    for number, position in places_drawn(work):
        row = row_of(work.seen, number)
        if row.counted is not None or row.spot_checks:
            looks = {spot.position: spot.plate_gap for spot in row.spot_checks}
            yield _spot(asker, (number, position), answered=looks.get(position) is not None)


def _spot(asker: Asker, place: tuple[int, int], *, answered: bool) -> Question:
    number, position = place

    def answer(gap: PlateGap) -> AnyTouch:
        return SpotAnswered(at=asker.at, by=asker.by, row=number, position=position, plate_gap=gap)

    return Question(
        key=f"spot {number} {position}",
        stage="drawn",
        ask=f"Drawn: row {number}, bolt {position} from the left. Its plate?",
        hint="How far does the plate stand off the rock?",
        choices=tuple(Choice(gap, answer(gap)) for gap in PLATE_GAPS),
        answered=answered,
        row=number,
        position=position,
        checks=("plates_seated",),
    )


def rows_planned(work: RoundWork, asker: Asker, rows: int) -> RowsPlanned:
    """Say that the round has so many rows, and what a round of so many demands."""
    touch = RowsPlanned(at=asker.at, by=asker.by, rows=rows)
    then = work.touched(touch)
    demanded = {
        "laps": laps_in_round(then),
        "bolts": len(places_in_round(then)),
        "drawn": places_drawn(then),
    }
    return touch.model_copy(update=demanded)


def _ahead(work: RoundWork, asker: Asker, number: int) -> Question:
    demanded = work.class_of(number)
    pattern, limit = demanded.pattern, demanded.limits.row_spacing

    def taken(reading: LengthReading) -> AnyTouch:
        return RowAhead(at=asker.at, by=asker.by, row=number, reading=reading)

    before = "the last old row" if number == 1 else f"row {number - 1}"
    key = f"ahead {number}"
    asked = LengthAsked(
        likely_m=around(pattern.row_spacing_m, "0.05", 2, 2),
        limit=f"at most {limit.at_most_m}",
        methods=TAPED,
        taken=taken,
        again=key in asker.again,
    )
    return Question(
        key=key,
        stage="rows",
        ask=f"Row {number}: how far ahead of {before}?",
        hint=f"Stand under {before}, look ahead. At most {limit.at_most_m} m.",
        choices=asked.choices(),
        digits=asked.digits(),
        answered=asked.is_answered_by(row_of(work.seen, number).ahead_of_row_before),
        row=number,
        checks=("row_spacing", "largest_gap"),
    )


def _count(work: RoundWork, asker: Asker, number: int, drawn: tuple[Place, ...]) -> Question:
    drawn_here = drawn_in_row(drawn, number)

    def counted(plates: int) -> AnyTouch:
        return RowCounted(at=asker.at, by=asker.by, row=number, plates=plates, drawn=drawn_here)

    demanded = demanded_in_row(work, number)
    before = "the last old row" if number == 1 else f"row {number - 1}"
    return Question(
        key=f"count {number}",
        stage="rows",
        ask=f"Row {number} as standard: how many plates, seated and in place?",
        hint=f"Stand under {before}. Mark what is loose or missing one by one.",
        choices=tuple(
            Choice(str(n), counted(n), "plates")
            for n in _counts_around(demanded, f"{work.round_id} row {number}")
        ),
        digits=counting(counted, unit="plates", limit="as many as you counted", most=60),
        answered=row_of(work.seen, number).counted is not None
        and f"count {number}" not in asker.again,
        row=number,
        checks=(
            "bolts_present",
            "neighbouring_bolts",
            "largest_gap",
            "plates_seated",
            "density",
            "load",
            "mesh_panel",
        ),
    )


def _spacing(work: RoundWork, asker: Asker, number: int) -> Iterator[Question]:
    pair = spacing_drawn(work, number)
    if pair is None:
        return
    first, then = pair

    def taken(reading: LengthReading) -> AnyTouch:
        spacing = SpacingSeen(from_position=first, to_position=then, reading=reading)
        return SpacingRead(at=asker.at, by=asker.by, row=number, spacing=spacing)

    key, spacings = f"spacing {number}", then - first
    demanded = work.class_of(number)
    pattern, limit = demanded.pattern, demanded.limits.bolt_spacing
    at_most = spacings * limit.at_most_m
    asked = LengthAsked(
        likely_m=around(spacings * pattern.bolt_spacing_m, "0.05", 2, 2),
        limit=f"at most {at_most}",
        methods=TAPED,
        taken=taken,
        straight=True,
        again=key in asker.again,
        on_photo="spacing",
    )
    taped = work.bolted[number - 1].taped
    yield Question(
        key=key,
        stage="rows",
        ask=f"Row {number}: tape bolt {first} to bolt {then} from the left.",
        hint=f"Straight, collar to collar. At most {at_most} m along the rock.",
        choices=asked.choices(),
        digits=asked.digits(),
        answered=asked.is_answered_by(taped[-1].reading if taped else None),
        row=number,
        position=first,
        checks=("bolt_spacing",),
    )


def _counts_around(demanded: int, seed: str) -> tuple[int, ...]:
    """Give four counts with the demanded one among them, not always in one place.

    One less is always there too: what is missing is counted as quickly as what is there.
    """
    first = max(0, demanded - 1 - draw(seed) % 3)
    return tuple(range(first, first + 4))
