"""The sheet itself, painted or framed under a drawing: a rectangle that is no piece."""

from __future__ import annotations

import re
from collections.abc import Sequence

from clothwright.geometry.area import polygon_area
from clothwright.geometry.box import Box
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.intake.pen import WHITE, PenLine

LIGHT = 0.75
"""Share of white in a colour of paper."""
_PALE = frozenset(("ivory", "snow", "whitesmoke", "beige", "linen", "seashell", "oldlace"))
SAME = 0.01
"""Share of the sheet's width by which a rectangle as large as the sheet may differ from it."""
LARGE_MM = 50.0
"""mm: what is drawn larger than this may be a piece."""


def without_paper(lines: Sequence[PenLine], sheet: Box) -> tuple[tuple[PenLine, ...], str]:
    """Return what is drawn on a sheet (mm) without the paper, and a note; "" when none is painted.

    Paper is a rectangle filled with a light colour, without a line round it, on which something
    else is drawn large: as large as the sheet, or white with most of what is drawn on it.
    """
    large = [x for x in lines if x.path.bounds().size.norm > LARGE_MM]
    paper = [x for x in large if _is_paper(x, large, sheet)]
    if not paper or len(paper) == len(large):
        return tuple(lines), ""
    gone = set(map(id, paper))
    wide = "as large as the sheet" if any(_as_large(x, sheet) for x in paper) else "under the lines"
    note = f"left out, painted rectangles {wide}, taken for the paper: {len(paper)}"
    return tuple(x for x in lines if id(x) not in gone), note


def is_rectangle(path: Path) -> bool:
    """Tell whether a closed line is a rectangle whose sides run across and up."""
    if not all(isinstance(s, Line) for s in path.segments):
        return False
    wide, tall = path.bounds().size
    area, whole = abs(polygon_area([s.start for s in path.segments])), wide * tall
    return len(path.segments) >= 4 and abs(area - whole) < 1e-4 * whole


def is_ground(line: PenLine, sheet: Box) -> bool:
    """Tell whether a rectangle of any colour is painted over the whole sheet."""
    return line.closed and line.pen.filled and is_rectangle(line.path) and _as_large(line, sheet)


def _is_paper(line: PenLine, large: Sequence[PenLine], sheet: Box) -> bool:
    if not (line.closed and line.pen.filled and _is_light(line.pen.colour)):
        return False
    if is_ground(line, sheet):
        return True
    if not is_rectangle(line.path):
        return False
    others = [x for x in large if x is not line]
    held = sum(line.path.bounds().holds(x.path.bounds()) for x in others)
    return line.pen.colour == WHITE and 2 * held > len(others)


def _is_light(colour: str) -> bool:
    if not re.fullmatch(r"#[0-9a-f]{6}", colour):
        return colour in _PALE or colour.startswith("light")
    return sum(int(colour[k : k + 2], 16) for k in (1, 3, 5)) >= LIGHT * 765


def _as_large(line: PenLine, sheet: Box) -> bool:
    return line.path.bounds().holds(sheet, SAME * sheet.size.norm)
