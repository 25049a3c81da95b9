"""Sizes in words and names: "Size 14", "XL"; and "FRONT-10", "FRONT-12" as one thing in sizes."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from clothwright.units import is_count

LETTERS = ("XXXS", "XXS", "XS", "S", "M", "L", "XL", "XXL", "XXXL", "2XL", "3XL", "4XL", "5XL")
_ONE = r"([0-9]{1,3}|" + "|".join(sorted(LETTERS, key=len, reverse=True)) + r")"
_CALLED = r"(?:size|sz|gr\.?|taille)"
_SIZE = re.compile(rf"{_CALLED}?[\s:=_-]*{_ONE}", re.IGNORECASE)
_IN_NAME = re.compile(
    rf"(?:(?<![^\W_])(?P<called>{_CALLED}[\s:=_-]*)?|(?<=[a-z]{{3}})(?=\d)){_ONE}(?![^\W_])",
    re.IGNORECASE,
)
_BETWEEN = " _-./:,;()[]"
SURE = 6
"""Numbers from here on are sizes where they stand in names of what is alike; smaller ones may count
pieces ("panel 1", "panel 2")."""


class SizedName(NamedTuple):
    """A name without the size in it, and the size. sure: it can hardly be anything else."""

    base: str
    size: str
    sure: bool


def size_in(words: str) -> str:
    """Return the size that words are, "" when they are something else.

    >>> size_in("Size 14"), size_in("XL"), size_in("skirt front")
    ('14', 'XL', '')
    """
    found = _SIZE.fullmatch(words.strip())
    return found[1].upper() if found else ""


def sized_names(names: Iterable[str]) -> Mapping[str, SizedName]:
    """Return the names that differ from another in nothing but a size.

    >>> [*sized_names(["FRONT-10", "FRONT-12", "belt"])]
    ['FRONT-10', 'FRONT-12']
    """
    ways = {name: _ways(name) for name in dict.fromkeys(names)}
    sizes: dict[str, set[str]] = defaultdict(set)
    for way in (w for some in ways.values() for w in some):
        sizes[way.base].add(way.size)
    out: dict[str, SizedName] = {}
    for name, some in ways.items():
        best = max(some, key=lambda w: len(sizes[w.base]), default=None)
        if best is not None and len(sizes[best.base]) > 1:
            sure = best.sure or surely_sizes(sizes[best.base])
            out[name] = best._replace(sure=sure)
    return out


def surely_sizes(sizes: Iterable[str]) -> bool:
    """Tell whether sizes are letters, or numbers that hardly count pieces."""
    return all(not is_count(s) or int(s) >= SURE for s in sizes)


def without_size(name: str, size: str) -> str:
    """Return a name without a size that is known to be in it, if it is."""
    return next((w.base for w in _ways(name) if w.size == size), name)


def _ways(name: str) -> list[SizedName]:
    """Return every way in which a name may hold a size, the last words first."""
    found = []
    for m in reversed(list(_IN_NAME.finditer(name))):
        before, after = name[: m.start()].rstrip(_BETWEEN), name[m.end() :].lstrip(_BETWEEN)
        base = f"{before} {after}".strip()
        found.append(SizedName(base, m[2].upper(), bool(m["called"])))
    return found


def in_order(names: Iterable[str]) -> tuple[str, ...]:
    """Return sizes, each once, the smallest first where that can be told."""
    listed = list(dict.fromkeys(names))
    if all(map(is_count, listed)):
        return tuple(sorted(listed, key=int))
    return tuple(sorted(listed, key=lambda n: LETTERS.index(n) if n in LETTERS else 99))
