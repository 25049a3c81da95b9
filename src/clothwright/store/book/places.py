"""Where each entry of a TOML text stands: line numbers for messages."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from clothwright.store.book.blocks import Block, blocks

Place = tuple[Any, ...]


@lru_cache(maxsize=8)
def places(text: str) -> Mapping[Place, int]:
    r"""Return the line (from 1) of every table and key, by its path with list places from 0.

    The text must be valid TOML.

    >>> places('[[cloth]]\nwidth = 3\n[[cloth]]\nwidth = 4\n')[("cloth", 1, "width")]
    4
    """
    found: dict[Place, int] = {}
    _gather(blocks(text), (), found)
    return found


def _gather(block: Block, at: Place, found: dict[Place, int]) -> None:
    if at and block.line:
        found[at] = block.line
    for entry in block.entries:
        if entry.key:
            found.setdefault((*at, entry.key), entry.line)
    counts: dict[str, int] = {}
    for child in block.children:
        below: Place = (*at, child.name)
        if child.many:
            counts[child.name] = counts.get(child.name, -1) + 1
            below = (*below, counts[child.name])
        _gather(child, below, found)


def line_of(place: Place, found: Mapping[Place, int]) -> int | None:
    """Return the line of a place, or of the nearest table around it that stands in the text."""
    return next((found[place[:n]] for n in range(len(place), 0, -1) if place[:n] in found), None)


def place_words(place: Place) -> str:
    """Return a path in words, list places counted from 1.

    >>> place_words(("plan", 1, "rule", 0, "above"))
    'plan 2, rule 1, above'
    """
    words: list[str] = []
    for part in place:
        if isinstance(part, int) and words:
            words[-1] += f" {part + 1}"
        else:
            words.append(str(part))
    return ", ".join(words) or "the file"
