"""Colours of a PDF file as "#rrggbb", near enough to tell one line from another."""

from __future__ import annotations

from collections.abc import Sequence

BLACK = "#000000"


def from_numbers(n: Sequence[float], before: str) -> str:
    """Return the colour of one (grey), three (red, green, blue) or four (inks) parts from 0 to 1.

    >>> from_numbers([1, 0, 0], BLACK), from_numbers([0, 0, 0, 1], BLACK)
    ('#ff0000', '#000000')

    Another count (a pattern, a separation of many inks) leaves the colour as it was.
    """
    if len(n) == 1:
        return _hex(n[0], n[0], n[0])
    if len(n) == 3:
        return _hex(*n)
    if len(n) == 4:
        return _hex(*((1 - c) * (1 - n[3]) for c in n[:3]))
    return before


def _hex(*parts: float) -> str:
    return "#" + "".join(f"{round(255 * min(max(p, 0.0), 1.0)):02x}" for p in parts)
