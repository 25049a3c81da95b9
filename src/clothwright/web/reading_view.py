"""How a file is read, shown: its pages as they were laid out, what its layers were taken for."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from markupsafe import Markup

from clothwright.geometry.arcs import ellipse_arc
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import NONE, Answers
from clothwright.intake.drawing import Drawing, Pages, Sheet
from clothwright.intake.dxf_layers import NAMES, NUMBERED
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.picture.picture import Item, Picture, Role, Stroke, Text
from clothwright.web.svg import inline
from clothwright.workroom.pieces.sitting import Look

MOST_LINES = 400
"""Lines in the small picture of the pages, the longest."""
GOOD_MM = 0.3
"""mm: lines that miss each other by more are a doubt."""
ROUGH = 0.002
"""Of the picture's width, how far its lines may stray."""


def reading(seen: Look | None) -> Mapping[str, object] | None:
    """Return what is asked about how a file is read; None where nothing is."""
    if seen is None or seen.drawing is None:
        return None
    drawing, how = seen.drawing, seen.waiting.how
    if drawing.pages is None and not drawing.layers:
        return None
    return {
        "pages": _pages(drawing, drawing.pages, how) if drawing.pages else None,
        "layers": _layers(drawing, how) if drawing.layers else None,
    }


def _layers(drawing: Drawing, how: Answers) -> Mapping[str, object]:
    return {
        "value": drawing.layers,
        "state": "answered" if how.layers else "proposed",
        "options": (
            (NUMBERED, "Yes: 1 is the boundary, 14 the sew line, 4 notches, 7 the grain …"),
            (NAMES, "No, they are only names"),
        ),
    }


def _pages(drawing: Drawing, pages: Pages, how: Answers) -> Mapping[str, object]:
    said = said_tiles(how.tiles, how.shift, how.moved)
    rows = said.rows or pages.rows
    step = how.shift.split(", ") if how.shift else ["", ""]
    return {
        "state": "answered" if how.tiles or how.moved else "proposed",
        "drawing": _picture(drawing, pages),
        "words": _words(pages),
        "good": pages.whole or (not pages.apart and pages.miss <= GOOD_MM and not pages.loose),
        "left": ", ".join(map(str, pages.left)),
        "way": _way(how.tiles, bool(said.rows)),
        "whole": pages.whole,
        "apart": pages.apart,
        "across": said.across or max(map(len, pages.rows), default=0) or "",
        "down": said.down or len(pages.rows) or "",
        "columns": said.columns,
        "rows": "\n".join(" ".join(str(n) if n else "-" for n in row) for row in rows),
        "tall": max(3, len(rows)),
        "shift": tuple(step),
        "step": tuple(f"{x:.1f} mm" for x in pages.step) if pages.step else ("", ""),
        "numbers": tuple(sorted(s.number for s in pages.sheets)),
        "moved": tuple((page, _move_words(by)) for page, by in said.moved),
    }


def _way(tiles: str, rows: bool) -> str:
    """Return how it was answered: "found" (not), "none" (apart), "rows", "grid"."""
    if not tiles:
        return "found"
    if tiles == NONE:
        return "none"
    return "rows" if rows else "grid"


def _move_words(by: Vec) -> str:
    right = f"{abs(by.x):.4g} mm to the {'right' if by.x >= 0 else 'left'}"
    return f"{right}, {abs(by.y):.4g} mm {'up' if by.y >= 0 else 'down'}"


def _words(pages: Pages) -> tuple[str, ...]:
    """Say how the pages were joined and how well, in sentences."""
    how = pages.how[0].upper() + pages.how[1:]
    if pages.apart:
        return (f"{how}: they lie side by side, and nothing runs on from one to another.",)
    if pages.whole:
        return (f"{how}.", "Where each belongs is told by the lines that they share.")
    out = [f"{how}."]
    worst = f"Lines that run on from page to page miss each other by {pages.miss:.2f} mm at most"
    between = _between(pages)
    out.append(worst + (f", between pages {between}." if between and pages.miss > 0.05 else "."))
    if pages.loose:
        ends = "1 end" if pages.loose == 1 else f"{pages.loose} ends"
        out.append(
            f"{ends} of lines at the joints {'runs' if pages.loose == 1 else 'run'} on nowhere: "
            "the pages may lie in another order, or closer together."
        )
    return tuple(out)


def _between(pages: Pages) -> str:
    """Name the two pages at whose joint lines miss most."""
    at = pages.miss_at
    if at is None:
        return ""
    near = sorted(pages.sheets, key=lambda s: _away(s, at))[:2]
    return " and ".join(str(n) for n in sorted(s.number for s in near))


def _away(sheet: Sheet, p: Vec) -> float:
    x = max(sheet.low.x - p.x, 0.0, p.x - sheet.high.x)
    y = max(sheet.low.y - p.y, 0.0, p.y - sheet.high.y)
    return max(x, y) + 1e-4 * p.distance((sheet.low + sheet.high) / 2)


def _picture(drawing: Drawing, pages: Pages) -> Markup:
    """Return the pages as they lie, their numbers, and what is drawn on them."""
    lines = sorted(drawing.lines, key=lambda x: -x.path.length)[:MOST_LINES]
    items: list[Item] = [Stroke(path=x.path, role=Role.CUT, closed=x.closed) for x in lines]
    wide = max(s.high.x for s in pages.sheets) - min(s.low.x for s in pages.sheets)
    items += [Stroke(path=_box(s), role=Role.PAGE, closed=True) for s in pages.sheets]
    for sheet in pages.sheets:
        size = 0.2 * min(sheet.high.x - sheet.low.x, sheet.high.y - sheet.low.y)
        at = sheet.low + Vec(0.3 * size, 0.3 * size)
        items.append(Text(words=str(sheet.number), at=at, size=size, role=Role.PAGE))
    if pages.miss_at is not None and pages.miss > GOOD_MM:
        ring = Path(ellipse_arc(pages.miss_at, (0.02 * wide, 0.02 * wide), 0.0, 0.0, 2 * math.pi))
        items.append(Stroke(path=ring, role=Role.FAULT, closed=True))
    rows = "; ".join(" ".join(str(n) if n else "none" for n in row) for row in pages.rows)
    alt = f"The pages as they lie{', row by row: ' + rows if rows else ''}"
    return inline(
        Picture(items=tuple(items)),
        alt=re.sub(r"\s+", " ", alt)[:400],
        margin=0.01 * wide,
        to_scale=False,
        extra="pages-pic",
        rough=ROUGH * wide,
    )


def _box(sheet: Sheet) -> Path:
    low, high = sheet.low, sheet.high
    return polyline((low, Vec(high.x, low.y), high, Vec(low.x, high.y), low))
