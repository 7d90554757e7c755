"""What is said on screens and paper, in the language of whoever reads it.

`_` marks a text for the catalogue and looks it up when it is shown. English stands in the
program itself, so it needs no catalogue. Records are English in every language: what work and
assess put together ("row 2, 1.4 m left of the crown") is kept as it is, and recognised by the
English template that it was made from when it is shown.
"""

import gettext
import re
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Final

from assets import TRANSLATIONS

DOMAIN: Final = "lastrow"
_BETWEEN: Final = re.compile("(; |: |, | \\(|\\)|\N{NO-BREAK SPACE}· | · )")
"""Between the parts of a place or a list."""
_FIELD: Final = re.compile(r"\{(\w+)\}")
_LEAST_OF_ITS_OWN: Final = 2
"""Letters that a template must have besides its fields: fewer would recognise anything."""
_ENOUGH_OF_ITS_OWN: Final = 3
"""One with fewer recognises numbers alone in its fields: "3 of 4", never "look at that"."""


@dataclass(frozen=True)
class _Template:
    """A text with fields, and how to find them again in what was made from it."""

    english: str
    made: re.Pattern[str]

    @property
    def letters(self) -> int:
        return _letters(self.english)


@dataclass(frozen=True)
class _Language:
    words: gettext.NullTranslations = field(default_factory=gettext.NullTranslations)

    def of(self, text: str) -> str:
        if not text:
            return text  # a catalogue keeps its own head under the empty text
        found = self.words.gettext(text)
        return self._made(text) if found == text and self.templates else found

    def _made(self, text: str) -> str:
        for template in self.templates:
            fields = template.made.fullmatch(text)
            if fields is not None:
                said = {name: self.of(value) for name, value in fields.groupdict().items()}
                return self.words.gettext(template.english).format(**said)
        parts = _BETWEEN.split(text)
        parts[::2] = [self.of(part) if len(parts) > 1 else part for part in parts[::2]]
        return "".join(parts)

    @cached_property
    def templates(self) -> tuple[_Template, ...]:
        """Every text with fields that the catalogue has, the one that says most first."""
        known = getattr(self.words, "_catalog", {})
        made = (_Template(it, _made_from(it)) for it in known if _is_template(it))
        kept = [it for it in made if it.letters >= _LEAST_OF_ITS_OWN]
        return tuple(sorted(kept, key=lambda it: (-it.letters, it.english)))


class _Tongue:
    """The language in use: one tablet speaks one at a time."""

    language = _Language()


def speak(language: str, folder: Path = TRANSLATIONS) -> None:
    """Take another language from now on; English where there is no catalogue of it."""
    _Tongue.language = _Language(gettext.translation(DOMAIN, folder, [language], fallback=True))


def _(text: str) -> str:
    """Give a text in the language that is spoken; as it is where no catalogue has it."""
    return _Tongue.language.of(text)


def counted(one: str, several: str, number: int) -> str:
    """Give the form of a text that fits a number, with the number in its place."""
    return _Tongue.language.words.ngettext(one, several, number).format(number)


def _letters(template: str) -> int:
    return sum(letter.isalpha() for letter in _FIELD.sub("", template))


def _is_template(text: object) -> bool:
    return isinstance(text, str) and _FIELD.search(text) is not None


def _made_from(template: str) -> re.Pattern[str]:
    """Give the pattern of what a template makes; a field that stands twice is the same twice."""
    seen: set[str] = set()
    short = _letters(template) < _ENOUGH_OF_ITS_OWN
    any_value = r"[\d.,\u00a0 ]+?" if short else ".*?"
    parts = []
    for number, part in enumerate(_FIELD.split(template)):
        if number % 2 == 0:
            parts.append(re.escape(part))
        else:
            parts.append(f"(?P={part})" if part in seen else f"(?P<{part}>{any_value})")
            seen.add(part)
    return re.compile("".join(parts), re.DOTALL)
