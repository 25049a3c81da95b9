"""Every outline of a drawing with all that belongs to it, and what was recognised there."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from clothwright.geometry.path import Path, ring
from clothwright.geometry.region import all_inside, is_simple
from clothwright.geometry.transform import scaling
from clothwright.intake.bounds import check_bounds
from clothwright.intake.by_kind import outlines_by_kind
from clothwright.intake.drawing import CUT, STITCH, Drawing, DrawnLine, DrawnText
from clothwright.intake.inner_lines import InnerRead, inner_read
from clothwright.intake.left_out import left_out_words
from clothwright.intake.notch_shapes import NotchFind, without_notches
from clothwright.intake.outlines import MOST_MARKS, Found, outlines, shared_out
from clothwright.intake.specks import without_specks
from clothwright.intake.spots import is_spot, ring_round
from clothwright.intake.stitching import InnerLine, inner_line
from clothwright.intake.words_read import WordsRead, words_read
from clothwright.units import Unit, parse_length
from clothwright.words import show_length

TOUCH_MM = 1.0
SMALL_MM = 25.0
"""mm: a line no longer than this that touches an outline from outside belongs to it."""


@dataclass(frozen=True, kw_only=True)
class Candidate:
    """An outline that may be a piece, mm, counter-clockwise, and all that lies in it.

    nested: large closed lines inside. inner: other lines inside or across it. texts: words in it.
    kept: closed lines inside that the maker has said are marks.
    """

    outline: DrawnLine
    nested: tuple[DrawnLine, ...] = ()
    inner: tuple[DrawnLine, ...] = ()
    texts: tuple[DrawnText, ...] = ()
    kept: tuple[DrawnLine, ...] = ()

    @cached_property
    def plain(self) -> tuple[Path, tuple[NotchFind, ...]]:
        """The outline with its notches straightened out, and these notches."""
        path, found = without_notches(self.outline.path)
        return (path, found) if found and is_simple(ring(path)) else (self.outline.path, ())

    @cached_property
    def stitching(self) -> InnerLine | None:
        """The line inside that may be the stitching line: the largest that runs steadily.

        Where the file itself says which it is, that one.
        """
        said = next((x for x in self.nested if x.kind == STITCH), None)
        if said is not None:
            return inner_line(self.plain[0], said)._replace(steady=True)
        for line in self.nested:
            known = inner_line(self.plain[0], line)
            if known.steady:
                return known
        return None

    @cached_property
    def words(self) -> WordsRead:
        """What the words in it say."""
        return words_read(self.texts, self.outline.label.replace(".", " ").strip())

    @cached_property
    def read(self) -> InnerRead:
        """What its inner lines mean; notches and darts stand on the stitching line if drawn."""
        base = self.stitching.line.path if self.stitching else self.plain[0]
        if len(self.inner) > MOST_MARKS:
            return InnerRead((), (), None, None, (), self.inner)
        outer = self.plain[0] if self.stitching else None
        return inner_read(base, self.inner, self.words.grains, self.words.levels, outer)

    @property
    def stitching_said(self) -> bool:
        """Tell whether the file itself says which line is the stitching line."""
        return any(x.kind == STITCH for x in self.nested)

    @property
    def notches(self) -> tuple[NotchFind, ...]:
        """The notches cut into the outline, and those drawn on it."""
        return (*self.plain[1], *self.read.notches)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """All that a drawing holds. notes: what was joined or left out, in words."""

    candidates: tuple[Candidate, ...]
    notes: tuple[str, ...]
    lines: int


def see(drawing: Drawing, scale: str, unit: Unit) -> Seen:
    """Return the outlines of a drawing with what lies in each. scale: as in `Answers`. BadInput."""
    factor = scale_of(scale, unit)
    move = scaling(factor)
    lines = [
        replace(
            x,
            path=ring_round(x.path.bounds().middle * factor)
            if is_spot(x)
            else x.path.transformed(move),
            size="",
        )
        for x in drawing.lines
    ]
    texts = [replace(t, at=t.at * factor, height=t.height * factor) for t in drawing.texts]
    check_bounds(lines, drawing.name)
    lines, specks = without_specks(lines)
    found = outlines_by_kind(lines) if any(x.kind == CUT for x in lines) else outlines(lines)
    inside, free = _shared(found)
    within, stray = _words_in(found, texts)
    notes = [*drawing.notes, *specks, *found.notes]
    notes += [words] if (words := left_out_words(free, found.outlines, unit)) else []
    if stray:
        notes.append(f"left out, words that stand in no outline: {stray}")
    notes += _square_told(drawing, scale, factor, unit)
    nested = found.nested or ((),) * len(found.outlines)
    return Seen(
        candidates=tuple(
            Candidate(outline=o, nested=n, inner=i, texts=w)
            for o, n, i, w in zip(found.outlines, nested, inside, within, strict=True)
        ),
        notes=tuple(notes),
        lines=len(lines),
    )


def _square_told(drawing: Drawing, scale: str, factor: float, unit: Unit) -> list[str]:
    """Say that a scale which was answered makes the test square another size than it says."""
    if not scale or drawing.square is None:
        return []
    now = drawing.square._replace(side=drawing.square.side * factor)
    if now.agrees(0.01):
        return []
    drawn, says = show_length(now.side, unit), show_length(now.written, unit)
    return [f"by this scale its test square is {drawn} wide, and it says {says}"]


def _shared(found: Found) -> tuple[list[tuple[DrawnLine, ...]], list[DrawnLine]]:
    """Share the other lines out; a short one that touches an outline belongs to it too."""
    inside, free = shared_out(found)
    shared = [list(i) for i in inside]
    nowhere: list[DrawnLine] = []
    for line in free:
        large = line.path.bounds().size.norm > SMALL_MM
        own = None
        if not large or line.kind:
            own = next((k for k, o in enumerate(found.outlines) if _belongs(o, line, large)), None)
        if own is None:
            nowhere.append(line)
        else:
            shared[own].append(line)
    return [tuple(s) for s in shared], nowhere


def _belongs(outline: DrawnLine, line: DrawnLine, large: bool) -> bool:
    same = bool(line.kind and line.label) and line.label == outline.label
    return same or (not large and _touches(outline.path, line.path))


def _touches(outline: Path, line: Path) -> bool:
    a, b = line.ends
    if not outline.bounds().holds(a, SMALL_MM):
        return False
    return min(outline.nearest(p)[1] for p in (a, b, a.lerp(b, 0.5))) <= TOUCH_MM


def _words_in(found: Found, texts: Sequence[DrawnText]) -> tuple[list[tuple[DrawnText, ...]], int]:
    free = list(texts)
    out = []
    for outline in found.outlines:
        within = all_inside([[t.at] for t in free], ring(outline.path)) if free else ()
        out.append(tuple(t for t, yes in zip(free, within, strict=True) if yes))
        free = [t for t, yes in zip(free, within, strict=True) if not yes]
    return out, len(free)


def scale_of(scale: str, unit: Unit) -> float:
    """Return mm for one unit of the drawing. Raises BadInput."""
    if not scale:
        return 1.0
    known = re.fullmatch(r"\s*(.+?)\s+is\s+(.+?)\s*", scale)
    if known:
        real = parse_length(known.group(1), unit=unit, where="--scale", least_mm=1e-6)
        drawn = parse_length(known.group(2), unit=Unit.mm, where="--scale", least_mm=1e-6)
        return real / drawn
    one = scale if scale.strip()[:1].isdigit() else f"1 {scale}"
    return parse_length(one, unit=unit, where="--scale", least_mm=1e-6)
