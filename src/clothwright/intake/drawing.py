"""What a reader makes of a file: lines in mm, with the names the file gives them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers

CUT, STITCH, NOTCH, GRAIN, FOLD = "cut", "stitch", "notch", "grain", "fold"
INNER, POINT, NOTCH_POINT = "inner", "point", "notch point"
KINDS = (CUT, STITCH, NOTCH, GRAIN, FOLD, INNER, POINT, NOTCH_POINT)
"""What a file may say that a line is. INNER: any line inside. The last two are small rings round
points (`spots.ring_round`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnLine:
    """One line of a drawing, mm, y up. label: its id or name in the file, "" when it has none.

    size: the pattern size it belongs to; "" when it belongs to every size, or there is only one.
    kind: what the file itself says that it is (one of `KINDS`); "" when it says nothing.
    """

    path: Path
    closed: bool
    label: str = ""
    size: str = ""
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnText:
    """Words written in a drawing. at: the middle of the words, mm, y up.

    height: of the letters, mm (0 when the file does not say). turn_deg: the direction of reading,
    degrees counter-clockwise from the right. size: as in `DrawnLine`.
    """

    words: str
    at: Vec
    height: float = 0.0
    turn_deg: float = 0.0
    size: str = ""


class Sheet(NamedTuple):
    """A page where it lies in the drawing: its number in the file, its corners, mm."""

    number: int
    low: Vec
    high: Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """How the pages of a file lie together.

    how: in words. apart: each was read on its own. whole: every page draws everything, so that
    nothing can miss. rows: numbers as they lie, from the top, 0 for an empty place; () when they
    lie in no rows. step: mm from a page to the next. miss: mm by which lines that run on miss each
    other at most, at miss_at; loose: ends at the joints that nothing runs on from. left: numbers
    of the pages that were left out; covers: of those, the ones with lines. beside: pages to which
    no line runs on from the most, laid beside them or in a hole between. doubts: those that might
    as well lie in each other's place.
    """

    sheets: tuple[Sheet, ...]
    how: str
    apart: bool = False
    whole: bool = False
    rows: tuple[tuple[int, ...], ...] = ()
    step: Vec | None = None
    miss: float = 0.0
    miss_at: Vec | None = None
    loose: int = 0
    left: tuple[int, ...] = ()
    covers: tuple[int, ...] = ()
    beside: tuple[int, ...] = ()
    doubts: tuple[int, ...] = ()


class Square(NamedTuple):
    """A test square: the side that is written (mm), the one that is drawn; said: as written."""

    written: float
    side: float
    said: str

    def agrees(self, share: float) -> bool:
        """Tell whether it measures what is written, within a share of it."""
        return abs(self.side - self.written) <= share * self.written + 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing read from a file.

    scale_known: False when the file names no physical unit, so that the size must be asked; then
    lengths are in the file's own units, as if one of them were 1 mm. scale_why: why it must be
    asked, in words, where the reader knows more than that.
    notes: what was left out or repaired, in words. texts: what is written in it, as far as the
    file has letters (letters drawn as lines are lines). sizes: the pattern sizes it holds, the
    smallest first; () when it holds one. layers: how layers that are numbers were taken, "numbered"
    (each number says what a line is) or "names" (it says nothing); "" when there are none.
    alike: how blocks or layers that are alike were taken, "sizes" or "pieces"; "unsure" where she
    must say; "" when there are none. alike_names: what these are called. alike_by: what tells them
    apart ("colour") where nothing names them, and they are called 1, 2, 3 from the smallest.
    pages: how the pages of a file lie together; None where there is one only.
    square: its test square; None without one.
    """

    name: str
    lines: tuple[DrawnLine, ...]
    scale_known: bool
    notes: tuple[str, ...] = ()
    texts: tuple[DrawnText, ...] = ()
    sizes: tuple[str, ...] = ()
    scale_why: str = ""
    layers: str = ""
    alike: str = ""
    alike_names: tuple[str, ...] = ()
    alike_by: str = ""
    pages: Pages | None = None
    square: Square | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """A kind of file that can be read.

    suffixes: endings of its files, small letters with the dot. read: from the file's bytes and its
    name (for messages) to its drawing; raises BadInput or CannotDo in words, never anything else.
    read_as: the same with what the maker has answered (how pages lie together), where that matters.
    """

    id: str
    title: str
    suffixes: tuple[str, ...]
    read: Callable[[bytes, str], Drawing]
    read_as: Callable[[bytes, str, Answers], Drawing] | None = None

    def drawing(self, data: bytes, name: str, answers: Answers) -> Drawing:
        """Return the drawing as the maker has answered. Raises BadInput or CannotDo."""
        return self.read_as(data, name, answers) if self.read_as else self.read(data, name)
