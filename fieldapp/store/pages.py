"""Reads rows out of a SQLite file page by page, for when SQLite itself refuses to.

Each page is taken on its own: no tree has to be whole, no header has to be right. What
looks like a row is given back as a tuple of its columns; whoever asks knows what a row of
theirs looks like, and can check its bytes. Rows of transactions that were cut short may be
among them.

Source of the layout: "Database File Format", sqlite.org/fileformat2.html, sections 1.3
(header), 1.6 (b-tree pages), 2.1 (record format), 4.1 and 4.2 (write-ahead log).
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass

Column = int | str | bytes | None

_TABLE_LEAF = 0x0D
_INDEX_LEAF = 0x0A
_INDEX_INSIDE = 0x02
_USUAL_PAGE_BYTES = 4096
_LEAST_PAGE_BYTES = 512
_LARGEST_PAYLOAD = 8 * 1024 * 1024
_CONSTANTS: dict[int, int | None] = {0: None, 8: 0, 9: 1}
_INTEGER_BYTES = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
_FIRST_TEXT_OR_BYTES = 12
_LOG_HEADER_BYTES = 32
_FRAME_HEADER_BYTES = 24


class _NoRow(Exception):
    """What stands here is no row."""


@dataclass(frozen=True)
class Row:
    """A row as it was found; `number` is its own number, in tables that have one.

    A column that is the row's own number holds None.
    """

    number: int | None
    columns: tuple[Column, ...]


@dataclass(frozen=True)
class _File:
    content: bytes
    page_bytes: int

    def page(self, number: int) -> bytes:
        start = (number - 1) * self.page_bytes
        return self.content[start : start + self.page_bytes]


def rows_in(content: bytes) -> Iterator[Row]:
    """Give every row that can be made out in a database file, in the order of its pages."""
    file = _File(content, _page_bytes(content))
    for number in range(1, len(content) // file.page_bytes + 1):
        page = file.page(number)
        start = 100 if number == 1 else 0
        if page[start] in (_TABLE_LEAF, _INDEX_LEAF, _INDEX_INSIDE):
            yield from _rows_on(file, page, start)


def with_log(content: bytes, log: bytes) -> bytes:
    """Lay the pages of a write-ahead log over those of the database that it belongs to."""
    page_bytes = _page_bytes(content)
    pages = bytearray(content)
    salt = log[16:24]
    step = _FRAME_HEADER_BYTES + page_bytes
    for at in range(_LOG_HEADER_BYTES, len(log) - step + 1, step):
        number = int.from_bytes(log[at : at + 4], "big")
        if log[at + 8 : at + 16] != salt or number == 0:
            break
        start = (number - 1) * page_bytes
        if start > len(pages) + len(log):
            break
        pages.extend(bytes(max(0, start - len(pages))))
        pages[start : start + page_bytes] = log[at + _FRAME_HEADER_BYTES : at + step]
    return bytes(pages)


def _page_bytes(content: bytes) -> int:
    """Give the page size of the header, or the usual one when the header is no good."""
    size = int.from_bytes(content[16:18], "big")
    is_power_of_two = size & (size - 1) == 0
    return size if size >= _LEAST_PAGE_BYTES and is_power_of_two else _USUAL_PAGE_BYTES


def _rows_on(file: _File, page: bytes, start: int) -> Iterator[Row]:
    header_bytes = 12 if page[start] == _INDEX_INSIDE else 8
    (cells,) = struct.unpack_from(">H", page, start + 3)
    pointers = start + header_bytes
    for at in range(pointers, min(pointers + 2 * cells, len(page) - 1), 2):
        (cell,) = struct.unpack_from(">H", page, at)
        try:
            yield _row(file, page, cell, page[start])
        except (_NoRow, IndexError, struct.error, UnicodeDecodeError):
            continue


def _row(file: _File, page: bytes, cell: int, kind: int) -> Row:
    at = cell + (4 if kind == _INDEX_INSIDE else 0)
    size, at = _varint(page, at)
    number = None
    if kind == _TABLE_LEAF:
        number, at = _varint(page, at)
    if not 0 < size <= _LARGEST_PAYLOAD:
        raise _NoRow
    here = _local_bytes(size, file.page_bytes, kind)
    return Row(
        number, _columns(page[at : at + here] + _overflow(file, page, at + here, size - here))
    )


def _overflow(file: _File, page: bytes, at: int, missing: int) -> bytes:
    """Follow a payload over the pages that hold the rest of it."""
    parts = []
    following = struct.unpack_from(">I", page, at)[0] if missing else 0
    while missing > 0:
        rest = file.page(following) if following > 1 else b""
        if len(rest) < file.page_bytes:
            raise _NoRow
        parts.append(rest[4 : 4 + missing])
        missing -= file.page_bytes - 4
        (following,) = struct.unpack_from(">I", rest)
    return b"".join(parts)


def _local_bytes(size: int, page_bytes: int, kind: int) -> int:
    """Tell how much of a payload stands on the page itself (section 1.6)."""
    on_table = kind == _TABLE_LEAF
    most = page_bytes - 35 if on_table else (page_bytes - 12) * 64 // 255 - 23
    if size <= most:
        return size
    least = (page_bytes - 12) * 32 // 255 - 23
    local = least + (size - least) % (page_bytes - 4)
    return local if local <= most else least


def _columns(payload: bytes) -> tuple[Column, ...]:
    header_bytes, at = _varint(payload, 0)
    value_at = header_bytes
    columns: list[Column] = []
    while at < header_bytes:
        serial, at = _varint(payload, at)
        column, value_at = _column(payload, value_at, serial)
        columns.append(column)
    if at != header_bytes or value_at != len(payload):
        raise _NoRow
    return tuple(columns)


def _column(payload: bytes, at: int, serial: int) -> tuple[Column, int]:
    if serial in _CONSTANTS:
        return _CONSTANTS[serial], at
    if serial in _INTEGER_BYTES:
        end = at + _INTEGER_BYTES[serial]
        return int.from_bytes(payload[at:end], "big", signed=True), end
    end = at + (serial - _FIRST_TEXT_OR_BYTES) // 2
    if serial < _FIRST_TEXT_OR_BYTES or end > len(payload):
        raise _NoRow  # a fraction (7) is none of ours
    piece = payload[at:end]
    return (piece.decode("utf-8") if serial % 2 else piece), end


def _varint(content: bytes, at: int) -> tuple[int, int]:
    value = 0
    for count in range(8):
        byte = content[at + count]
        value = value << 7 | byte & 0x7F
        if not byte & 0x80:
            return value, at + count + 1
    return value << 8 | content[at + 8], at + 9
