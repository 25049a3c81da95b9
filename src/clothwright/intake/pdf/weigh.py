"""How much a page's content unpacks to, told before it is taken apart.

A stream of a few hundred bytes may unpack to gigabytes (ISO 32000-2, 7.4: filters, also one after
another). It is unpacked here piece by piece, up to a limit; what is beyond is refused in words.
"""

from __future__ import annotations

import base64
import re
import zlib
from typing import Any

import pikepdf

from clothwright.errors import BadInput

MOST_UNPACKED = 40_000_000
"""Bytes that the content of one page or form may unpack to."""
MOST_OTHER = 200_000
"""Bytes of a stream that is packed in another way, which cannot be unpacked piece by piece."""
MOST_OF_A_PAGE = 400_000
"""Operators that one page or form may have; reading one takes some microseconds and 600 bytes."""
_OPERATOR = re.compile(rb"(?<![A-Za-z/*'\"])[A-Za-z*'\"]+")


def weigh(content: Any, where: str) -> int:
    """Return about how many operators a page's content (a stream or several) or a form has.

    Raises BadInput when it holds more than the lines of a pattern.
    """
    streams = list(content) if isinstance(content, pikepdf.Array) else [content]
    room, found = MOST_UNPACKED, 0
    for stream in streams:
        if not isinstance(stream, pikepdf.Stream):
            continue
        data = _unpacked(stream, room, where)
        room -= len(data) + 10
        for _ in _OPERATOR.finditer(data):
            found += 1
        if room < 0 or found > MOST_OF_A_PAGE:
            raise _too_much(where)
    return found


def _unpacked(stream: pikepdf.Stream, most: int, where: str) -> bytes:
    data = stream.read_raw_bytes()
    for kind in (str(f) for f in _each(stream.get("/Filter"))):
        if kind in ("/FlateDecode", "/Fl"):
            data = _inflated(data, most, where)
        elif kind in ("/ASCII85Decode", "/A85"):
            data = _from_letters(data)
        elif len(data) > MOST_OTHER:
            raise _too_much(where)
        else:
            return stream.read_bytes()
    if len(data) > most:
        raise _too_much(where)
    return data


def _inflated(data: bytes, most: int, where: str) -> bytes:
    """Unpack up to a limit. Damaged data is weighed as nothing: it cannot be drawn either."""
    try:
        out = zlib.decompressobj().decompress(data, most + 1)
    except zlib.error:
        return b""
    if len(out) > most:
        raise _too_much(where)
    return out


def _from_letters(data: bytes) -> bytes:
    """Return what base-85 letters stand for (ISO 32000-2, 7.4.3); nothing when they are damaged."""
    try:
        return base64.a85decode(data.partition(b"~>")[0].removeprefix(b"<~"))
    except ValueError:
        return b""


def _each(value: Any) -> list[Any]:
    if value is None:
        return []
    return list(value) if isinstance(value, pikepdf.Array) else [value]


def _too_much(where: str) -> BadInput:
    return BadInput(
        where=where,
        what="a page holds more than the lines of a pattern",
        expected=f"at most {MOST_OF_A_PAGE} strokes on a page",
        try_="a file without pictures and shadings",
    )
