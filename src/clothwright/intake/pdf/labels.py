"""What is written on every tile of a printed pattern: its name or number, the same words on all."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.intake.drawing import DrawnText
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.furniture import MOSTLY
from clothwright.intake.pdf.ways_to_lie import Names, named

SAME_MM = 4.0
"""mm: labels stand at the same place of every page within this; a longer one reaches farther."""
_NAMES = (
    re.compile(r"([A-Z])\s*-?\s*(\d{1,2})"),
    re.compile(r"(\d{1,2})\s*[-/x,.:]?\s*([A-Z])"),
    re.compile(r"(\d{1,2})\s*[-/x,.:]\s*(\d{1,2})"),
    re.compile(r".*row\s*(\d{1,2})\D{1,12}col\w*\s*(\d{1,2}).*", re.IGNORECASE),
    re.compile(r"r\s*(\d{1,2})\W*c\s*(\d{1,2})", re.IGNORECASE),
)
_NUMBER = re.compile(
    r"(?:.{0,40}?\b(?:page|sheet|tile|p\.)\s*)?(\d{1,3})(?:\s*(?:of|/)\s*\d{1,3})?", re.IGNORECASE
)
FEWEST = 3
"""Pages on which the same words, or plain numbers, are a label."""


class Labels(NamedTuple):
    """names: of each page, two numbers ("B3" is 2, 3); None where it has none.

    numbers: the number that is printed on each page; () when not all have one. pages: without
    their labels.
    """

    names: Names
    numbers: tuple[int, ...]
    pages: list[DrawnPage]

    def of(self, some: Sequence[int]) -> Labels:
        """Return the labels of some of the pages, by their place in the list."""
        return Labels(
            [self.names[k] for k in some],
            tuple(self.numbers[k] for k in some if self.numbers),
            [self.pages[k] for k in some],
        )


def labels_of(pages: Sequence[DrawnPage]) -> Labels:
    """Read the labels of pages, and take them away."""
    names: Names = [None] * len(pages)
    numbers: tuple[int, ...] = ()
    gone: set[int] = set()
    for group in _groups(pages):
        many = sum(t is not None for t in group) >= FEWEST
        found = [None if t is None else name_in(t.words) for t in group]
        counted = [None if t is None else _number_in(t.words) for t in group]
        if _tell(found, group) and _differ(found):
            names = found if not named(names) else names
        elif many and _tell(counted, group):
            if all(n is not None for n in counted) and len(set(counted)) == len(counted):
                numbers = tuple(n for n in counted if n is not None)
        elif not many or len({t.words for t in group if t is not None}) > 1:
            continue
        gone |= {id(t) for t in group if t is not None}
    if not any(names):
        names = [name_of(p) for p in pages]
        if named(names):
            gone |= {id(t) for p in pages for t in p.texts if name_in(t.words)}
        else:
            names = [None] * len(pages)
    without = [replace(p, texts=tuple(t for t in p.texts if id(t) not in gone)) for p in pages]
    return Labels(names, numbers, without)


def name_in(words: str) -> tuple[int, int] | None:
    """Return the two numbers of a page's name: "B3" is 2, 3; "2/3"; "row 2 column 3"."""
    for pattern in _NAMES:
        match = pattern.fullmatch(words.strip())
        if match:
            first, second = (ord(m) - 64 if m.isalpha() else int(m) for m in match.groups())
            return first, second
    return None


def name_of(page: DrawnPage) -> tuple[int, int] | None:
    """Return the only name that is written on a page."""
    found = {n for t in page.texts if (n := name_in(t.words)) is not None}
    return found.pop() if len(found) == 1 else None


def _number_in(words: str) -> int | None:
    match = _NUMBER.fullmatch(words.strip())
    return int(match[1]) if match else None


def _tell(found: Sequence[object], group: Sequence[DrawnText | None]) -> bool:
    """Tell whether all labels of a group could be read so."""
    return all(f is not None for f, t in zip(found, group, strict=True) if t is not None)


def _differ(names: Names) -> bool:
    """Tell whether names are places: each once, and not numbers of so many ("3/16")."""
    known = [n for n in names if n is not None]
    of_so_many = len({b for _, b in known}) == 1 and known[0][1] >= len(known) > 1
    return len(set(known)) == len(known) and not of_so_many


def _groups(pages: Sequence[DrawnPage]) -> Iterator[list[DrawnText | None]]:
    """Yield texts that stand at one place of most pages, one for each page that has it."""
    least = max(2, MOSTLY * len(pages))
    used: set[int] = set()
    for page in pages:
        for text in page.texts:
            if id(text) in used:
                continue
            group = [_standing(p, text) for p in pages]
            some = [t for t in group if t is not None]
            if len(some) >= least:
                used |= {id(t) for t in some}
                yield group


def _standing(page: DrawnPage, text: DrawnText) -> DrawnText | None:
    near = [t for t in page.texts if t.at.distance(text.at) < SAME_MM]
    return min(near, key=lambda t: t.at.distance(text.at), default=None)
