"""Another language on the screens, out of a catalogue as translators make them."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.ui.translate import _, counted, speak
from tests.made_up_language import catalogue


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    speak("en")


SPANISH = {
    "": "Content-Type: text/plain; charset=UTF-8\nPlural-Forms: nplurals=2; plural=(n != 1);\n",
    "Return": "Volver",
    "{} place\0{} places": "{} lugar\0{} lugares",
    "row {number}": "fila {number}",
    "Row {number}: how far ahead of {before}?": "Fila {number}: ¿a qué distancia de {before}?",
    "{text} m {side} of the crown": "{text} m a la {side} de la clave",
    "left": "izquierda",
    "add a bolt, {words}": "añadir un perno, {words}",
    "{at}, {where}": "¡{at}!",
    "missing": "falta",
}


def test_a_text_is_shown_in_the_language_that_is_spoken(tmp_path: Path) -> None:
    speak("es", catalogue(tmp_path, SPANISH))

    assert _("Return") == "Volver"
    assert counted("{} place", "{} places", 1) == "1 lugar"
    assert counted("{} place", "{} places", 3) == "3 lugares"


def test_what_a_catalogue_lacks_stays_english(tmp_path: Path) -> None:
    speak("es", catalogue(tmp_path, SPANISH))

    assert _("Lock") == "Lock"


def test_a_language_without_a_catalogue_is_english(tmp_path: Path) -> None:
    speak("pl", tmp_path)

    assert _("Return") == "Return"


def test_nothing_is_not_looked_up(tmp_path: Path) -> None:
    """The empty text is the catalogue's own head."""
    speak("es", catalogue(tmp_path, SPANISH))

    assert _("") == ""


@pytest.mark.parametrize(
    ("english", "spanish"),
    [
        ("Row 2: how far ahead of row 1?", "Fila 2: ¿a qué distancia de fila 1?"),
        ("1.4 m left of the crown", "1.4 m a la izquierda de la clave"),
        (
            "row 2, 1.4 m left of the crown: missing",
            "fila 2, 1.4 m a la izquierda de la clave: falta",
        ),
        ("Row 2: how far ahead", "Row 2: how far ahead"),
        ("2.4 m of steel", "2.4 m of steel"),
    ],
)
def test_what_was_put_together_in_english_is_recognised_by_its_template(
    tmp_path: Path, english: str, spanish: str
) -> None:
    speak("es", catalogue(tmp_path, SPANISH))

    assert _(english) == spanish


def test_a_template_without_words_of_its_own_recognises_nothing(tmp_path: Path) -> None:
    speak("es", catalogue(tmp_path, SPANISH))

    assert _("bolt 2, left") == "bolt 2, izquierda"


def test_parts_between_brackets_are_translated_and_nothing_is_added(tmp_path: Path) -> None:
    speak("es", catalogue(tmp_path, SPANISH))

    assert _("bolt (missing)") == "bolt (falta)"


def test_english_is_given_back_as_it_is() -> None:
    text = "Row 2: how far ahead of row 1?"

    assert _(text) is text
