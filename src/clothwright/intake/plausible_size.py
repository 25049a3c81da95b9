"""Is a piece as large as a piece of its name can be? What is not is asked, never refused.

Between what a newborn and a very tall woman wear. The tallest is four standard deviations above the
mean of the survey in `body.plausible`; a newborn is 50 cm long (WHO Child Growth Standards, 2006).
Shoulders are at 0.82 of the height, hips at 0.53 (Drillis and Contini, 1966); the rest is common
practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from clothwright.body.plausible import SUMMARY
from clothwright.intake.answers import Question
from clothwright.intake.candidates import scale_of
from clothwright.units import Unit
from clothwright.words import show_length

TALLEST = SUMMARY["height"].mean + 4.0 * SUMMARY["height"].sd
NEWBORN = 500.0
HEM = 150.0
"""mm: hem, heels and a shoulder seam's slope."""
STRIP_MM = 300.0
"""mm: narrower pieces may be of any length: ties, frills, bindings."""
WIDEST = 2.0 * (0.63 * TALLEST + HEM) + 300.0
"""mm: half a circle skirt from the waist to the floor."""
SMALLEST = 50.0
"""mm: of a drawing, the largest piece that has no name is no smaller."""


class _Kind(NamedTuple):
    """Pieces of a kind: their longer side at least, along the grain at most, mm."""

    words: str
    least: float
    most: float


_SMALL = re.compile(
    r"\b(facing|pocket|flap|cuff|collar|tab|loop|belt|band|waistband|binding|strap|placket|welt|"
    r"patch|tie|stand|yoke|gusset|godet|frill|ruffle|flounce|bow|fly|vent|interfacing|square)s?\b"
)
_KINDS = (
    _Kind("skirt", 0.2 * NEWBORN, 0.63 * TALLEST + HEM),
    _Kind("trousers?|pants|leg|shorts", 0.3 * NEWBORN, 0.63 * TALLEST + HEM),
    _Kind("sleeve", 0.12 * NEWBORN, 0.44 * TALLEST + 2 * HEM),
    _Kind("bodice", 0.24 * NEWBORN, (0.82 - 0.53) * TALLEST + 2 * HEM),
    _Kind(
        "front|back|coat|jacket|dress|gown|robe|shirt|blouse|top|waistcoat|vest|side",
        0.2 * NEWBORN,
        0.82 * TALLEST + HEM,
    ),
)
_ANY = _Kind("", 0.0, TALLEST)
_SCALES = ("mm", "cm", "in", "1/72 in", "1/96 in")


class ReadSize(NamedTuple):
    """A piece as it is read: how wide and tall its box is, mm. lies: the grain runs across it."""

    name: str
    wide: float
    tall: float
    lies: bool

    def times(self, factor: float) -> ReadSize:
        """Return it so many times as large (mm)."""
        return self._replace(wide=self.wide * factor, tall=self.tall * factor)

    def said(self, unit: Unit) -> str:
        """Say how large it is, by its longer side."""
        if self.wide > self.tall:
            return f"{show_length(self.wide, unit)} wide"
        return f"{show_length(self.tall, unit)} tall"


class SizeDoubt(NamedTuple):
    """A piece that is too small or too large for its name. words: the question, in her unit.

    ways: a scale of the drawing that would make all plausible, and how large the piece is then.
    """

    words: str
    ways: tuple[tuple[str, str], ...]

    @property
    def question(self) -> Question:
        """The question whether it is so; a way out is another scale."""
        return Question(id="true-size", words=self.words, choices=tuple(w for w, _ in self.ways))


def size_doubt(
    pieces: Sequence[ReadSize], unit: Unit, scale: str = "", *, scalable: bool = True
) -> SizeDoubt | None:
    """Return the question whether pieces are at true size; None where all may be.

    scale: the one they are read by. scalable: it may be another.
    """
    odd = next(_odd(pieces), None)
    if odd is None:
        return None
    now, ways = scale_of(scale, unit), []
    for way in _SCALES if scalable else ():
        factor = scale_of(way, unit) / now
        scaled = [p.times(factor) for p in pieces]
        if abs(factor - 1.0) > 0.01 and not any(_odd(scaled)):
            ways.append((way, f"{odd.name} is {odd.times(factor).said(unit)}"))
    words = f'as read, "{odd.name}" is {odd.said(unit)}; is that its true size?'
    return SizeDoubt(words, tuple(ways))


def _odd(pieces: Sequence[ReadSize]) -> Iterator[ReadSize]:
    """Yield the pieces that are none of their kind's sizes."""
    largest = max((max(p.wide, p.tall) for p in pieces), default=0.0)
    for piece in pieces:
        name = piece.name.lower()
        kind = _kind_of(name)
        long, across = (piece.wide, piece.tall)[:: 1 if piece.lies else -1]
        strip = kind is _ANY and min(long, across) <= STRIP_MM
        named_small = bool(_SMALL.search(name))
        least = SMALLEST if kind is _ANY and not named_small else kind.least
        small = max(long, across) < least and (kind is not _ANY or max(long, across) == largest)
        if small or (not strip and (long > kind.most or across > WIDEST)):
            yield piece


def _kind_of(name: str) -> _Kind:
    if _SMALL.search(name):
        return _ANY
    return next((k for k in _KINDS if re.search(rf"\b({k.words})s?\b", name)), _ANY)
