"""Catalogues as translators compile them, and a language that puts every text in brackets."""

import ast
import re
import struct
from pathlib import Path

from tests.house.catalogue import TEMPLATE

MAGIC = 0x950412DE
"""Published: GNU gettext manual, "The Format of GNU MO Files"."""
HEAD = "Content-Type: text/plain; charset=UTF-8\nPlural-Forms: nplurals=2; plural=(n != 1);\n"
BRACKETS = "en_BR"
_TEXT = re.compile(r'(?m)^msgid (".*")$(?:\nmsgid_plural (".*")$)?')


def catalogue(folder: Path, texts: dict[str, str], language: str = "es") -> Path:
    """Write a compiled catalogue: two tables of lengths and offsets, then the texts."""
    pairs = sorted(texts.items())
    count, tables = len(pairs), 28
    begins = tables + 16 * count
    body = b""
    ids: list[tuple[int, int]] = []
    said: list[tuple[int, int]] = []
    for column, table in ((0, ids), (1, said)):
        for pair in pairs:
            text = pair[column].encode()
            table.append((len(text), begins + len(body)))
            body += text + b"\0"
    head = struct.pack("<7I", MAGIC, 0, count, tables, tables + 8 * count, 0, begins)
    rows = b"".join(struct.pack("<2I", *row) for row in (*ids, *said))
    path = folder / language / "LC_MESSAGES" / "lastrow.mo"
    path.parent.mkdir(parents=True)
    path.write_bytes(head + rows + body)
    return folder


def in_brackets(folder: Path) -> Path:
    """Write a catalogue in which every text of the translators' template stands in brackets."""
    texts = {"": HEAD}
    for one, several in _TEXT.findall(TEMPLATE.read_text("utf-8")):
        forms = [_read(text) for text in (one, several) if text]
        if forms[0]:
            texts["\0".join(forms)] = "\0".join(f"[{form}]" for form in forms)
    return catalogue(folder, texts, BRACKETS)


def outside_brackets(text: str) -> str:
    """Give what of a text was not translated; what was cut short has lost its closing brackets."""
    for inside in (r"\[[^\[\]]*\]", r"\[[^\[\]…]*(?=…)"):
        shorter = re.sub(inside, "", text)
        while shorter != text:
            text, shorter = shorter, re.sub(inside, "", shorter)
    return text


def _read(quoted: str) -> str:
    return str(ast.literal_eval(quoted))
