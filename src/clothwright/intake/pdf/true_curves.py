"""Curves that begin at a false point, since a program cut off the line before them at the paper.

Some programs leave out of a path the straight lines beyond the paper, and keep every curve: one
that follows them then begins where the last line or curve ended. The page on whose paper the curve
really begins has it right; it is known there by its other three points.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Segment
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pen import PenLine

SAME_MM = 0.3
"""mm: points of one curve agree within this on two pages."""
FALSE_MM = 0.02
"""mm: a curve that begins farther off than this is mended."""


def with_true_curves(pages: Sequence[DrawnPage], by: Sequence[Vec]) -> list[DrawnPage]:
    """Return pages with each curve from where another page says that it begins. by: their moves."""
    known: dict[tuple[int, int], list[Cubic]] = defaultdict(list)
    for page, at in zip(pages, by, strict=True):
        move = translation(at)
        for line in page.lines:
            for s in line.path.segments:
                if isinstance(s, Cubic) and _on_paper(s.p0, page):
                    moved = s.transformed(move)
                    known[_place(moved.p3)].append(moved)
    return [
        replace(page, lines=tuple(part for x in page.lines for part in _mended(x, page, at, known)))
        for page, at in zip(pages, by, strict=True)
    ]


def _mended(
    line: PenLine, page: DrawnPage, at: Vec, known: dict[tuple[int, int], list[Cubic]]
) -> Iterator[PenLine]:
    """Yield a line as it is, or in parts that begin at the curves that were mended."""
    parts: list[list[Segment]] = [[]]
    for s in line.path.segments:
        start = None
        if isinstance(s, Cubic) and not _on_paper(s.p0, page):
            start = _true_start(s, at, known)
        if start is None:
            parts[-1].append(s)
        else:
            parts.append([replace(s, p0=start)])
    if len(parts) == 1:
        yield line
        return
    for part in parts:
        if part:
            yield replace(line, path=Path(tuple(part)), closed=False)


def _true_start(s: Cubic, at: Vec, known: dict[tuple[int, int], list[Cubic]]) -> Vec | None:
    """Return where a curve begins, told by the other pages; None where none tells otherwise."""
    here = s.transformed(translation(at))
    x, y = _place(here.p3)
    for i in (-1, 0, 1):
        for j in (-1, 0, 1):
            for other in known.get((x + i, y + j), ()):
                if (
                    max(here.p1.distance(other.p1), here.p2.distance(other.p2)) < SAME_MM
                    and here.p3.distance(other.p3) < SAME_MM
                ):
                    return other.p0 - at if other.p0.distance(here.p0) > FALSE_MM else None
    return None


def _place(p: Vec) -> tuple[int, int]:
    return round(p.x), round(p.y)


def _on_paper(p: Vec, page: DrawnPage) -> bool:
    return FALSE_MM < p.x < page.width - FALSE_MM and FALSE_MM < p.y < page.height - FALSE_MM
