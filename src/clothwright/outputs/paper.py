"""Sheets of paper: their names and their sizes in mm.

ISO 216 for A0 to A5; ANSI/ASME Y14.1 for Letter (ANSI A) to ANSI E; Arch D and E as sold for
drawings; Legal and Tabloid as sold for printers. A roll has a width and as much length as asked.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.errors import BadInput, did_you_mean
from clothwright.units import INCH, Unit, parse_length
from clothwright.words import show_length

LONGEST_PAGE_MM = 14400 / 72 * INCH
"""5080 mm: readers of PDF need not draw a page with a longer side (ISO 32000-1, annex C)."""

SHORTEST_PAGE_MM = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet as it lies before the maker: width across, height up, in mm.

    A roll has an infinite height until it is cut to what is drawn on it.
    """

    name: str
    width: float
    height: float

    @property
    def is_roll(self) -> bool:
        """True for paper of any length."""
        return math.isinf(self.height)

    @property
    def turned(self) -> Paper:
        """The same sheet turned a quarter; a roll stays as it is."""
        return self if self.is_roll else replace(self, width=self.height, height=self.width)

    @property
    def slug(self) -> str:
        """Its name as a part of a file's name: "a4", "17-1-2-in-11-in"."""
        return "-".join(re.findall(r"[a-z0-9]+", self.name.casefold()))

    def cut_to(self, height: float) -> Paper:
        """Return a roll cut off at a height in mm, no longer than a page may be."""
        return replace(self, height=min(height, LONGEST_PAGE_MM)) if self.is_roll else self

    def said(self, unit: Unit) -> str:
        """Name and size for the maker: "A4 (21 cm × 29.7 cm)"."""
        tall = "any length" if self.is_roll else show_length(self.height, unit)
        return f"{self.name} ({show_length(self.width, unit)} × {tall})"


class _Size(NamedTuple):
    name: str
    width: float
    height: float


_SIZES = (
    _Size("A0", 841.0, 1189.0),
    _Size("A1", 594.0, 841.0),
    _Size("A2", 420.0, 594.0),
    _Size("A3", 297.0, 420.0),
    _Size("A4", 210.0, 297.0),
    _Size("A5", 148.0, 210.0),
    _Size("Letter", 8.5 * INCH, 11 * INCH),
    _Size("Legal", 8.5 * INCH, 14 * INCH),
    _Size("Tabloid", 11 * INCH, 17 * INCH),
    _Size("ANSI A", 8.5 * INCH, 11 * INCH),
    _Size("ANSI B", 11 * INCH, 17 * INCH),
    _Size("ANSI C", 17 * INCH, 22 * INCH),
    _Size("ANSI D", 22 * INCH, 34 * INCH),
    _Size("ANSI E", 34 * INCH, 44 * INCH),
    _Size("Arch D", 24 * INCH, 36 * INCH),
    _Size("Arch E1", 30 * INCH, 42 * INCH),
    _Size("Arch E", 36 * INCH, 48 * INCH),
)

PAPERS: tuple[Paper, ...] = tuple(
    Paper(name=s.name, width=s.width, height=s.height) for s in _SIZES
)
"""Every sheet known by name, upright."""

_BY_NAME = {p.name.casefold().replace(" ", ""): p for p in PAPERS}
_LYING = re.compile(r"[ ,]+(landscape|lying|across)$")
_STANDING = re.compile(r"[ ,]+(portrait|upright)$")
_ROLL = re.compile(r"^(?:a )?roll(?: of)?\s*(.*)$|^(.*?)\s*(?:wide )?roll$")
_TIMES = re.compile(r"\s*(?:[x×]|\bby\b)\s*")
_UNIT_AT_END = re.compile(r"([a-z\"″]+)\.?$")


def parse_paper(text: str, *, unit: Unit = Unit.mm) -> Paper:
    """Return the sheet a maker names: "A4", "Letter landscape", "36 x 48 in", "roll 914 mm".

    unit: of a size written without one. Raises BadInput.

    >>> round(parse_paper("letter").width, 6), round(parse_paper("36 x 48 in").height, 6)
    (215.9, 1219.2)
    """
    plain = " ".join(text.strip().casefold().split())
    lying = _LYING.search(plain)
    bare = _STANDING.sub("", _LYING.sub("", plain))
    paper = _BY_NAME.get(bare.replace(" ", "").replace("-", "")) or _measured(text, bare, unit)
    return paper.turned if lying else paper


def _measured(text: str, bare: str, unit: Unit) -> Paper:
    roll = _ROLL.match(bare)
    if roll and (roll[1] or roll[2]):
        width = _side(roll[1] or roll[2], unit)
        return Paper(name=f"roll {show_length(width, unit)} wide", width=width, height=math.inf)
    sides = _TIMES.split(bare)
    if len(sides) != 2 or not all(sides):
        raise BadInput(
            what=f'"{text}" is no paper known here.{did_you_mean(bare, _BY_NAME)}',
            where="paper",
            expected="a size such as A4, Letter, A0 landscape, "
            + ("90 x 120 cm or roll 90 cm" if unit.is_metric else "36 x 48 in or roll 36 in"),
        )
    if not _UNIT_AT_END.search(sides[0]) and (last := _UNIT_AT_END.search(sides[1])):
        sides[0] += f" {last[1]}"
    width, height = (_side(each, unit) for each in sides)
    name = f"{show_length(width, unit)} × {show_length(height, unit)}"
    return Paper(name=name, width=width, height=height)


def _side(text: str, unit: Unit) -> float:
    side = parse_length(text, unit=unit, where="paper", least_mm=SHORTEST_PAGE_MM)
    if side > LONGEST_PAGE_MM:
        raise BadInput(
            what=f"a side of {show_length(side, unit)} is longer than a page can be",
            where="paper",
            expected=f"at most {show_length(LONGEST_PAGE_MM, unit)}",
            try_="a roll, which is split into pages where it must be",
        )
    return side
