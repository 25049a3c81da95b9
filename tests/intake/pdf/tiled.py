"""A sheet printed over many pages, four ways."""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

from clothwright.geometry.box import Box
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.clip import clipped
from clothwright.intake.pen import DrawnPen, PenLine
from tests.intake.pdf.sheets import MM, Drawn, Sheet, _reportlab_path

A4 = Vec(210.0, 297.0)
MARGIN = 12.0
OVERLAP = 10.0
PLAIN = DrawnPen(width=0.6, dash=(), colour="#000000", layer="", shown=True, filled=False)


def tiles_of(sheet: Sheet, window: Vec, overlap: float) -> Iterator[tuple[int, int, Vec]]:
    """Yield column, row (from the top) and the lower left corner of every tile."""
    step = window - Vec(overlap, overlap)
    wide, tall = (
        math.ceil((n - overlap) / s) for n, s in ((sheet.width, step.x), (sheet.height, step.y))
    )
    for row in range(tall):
        for column in range(wide):
            yield (
                column,
                row,
                Vec(column * step.x, sheet.height + overlap - (row + 1) * step.y - overlap),
            )


def part_of(sheet: Sheet, at: Vec, window: Vec) -> Sheet:
    """Return what a tile shows, cut at its edges, measured from its own corner."""
    here = Box(at, at + window)
    lines = []
    for line in sheet.lines:
        closed = line.path.start.distance(line.path.end) < 1e-6
        pen = PenLine(path=line.path, closed=closed, pen=PLAIN)
        lines += [
            replace(line, path=p.path.transformed(translation(at * -1.0)))
            for p in clipped(pen, here)
        ]
    words = tuple((w, p - at, s) for w, p, s in sheet.words if here.holds(p))
    return Sheet(width=window.x, height=window.y, lines=tuple(lines), words=words)


def marks(
    kind: str, window: Vec, column: int, row: int
) -> tuple[tuple[Drawn, ...], tuple[tuple[str, Vec, float], ...]]:
    """Return the marks round a tile's window: "frame", "crosses", "halves" (and a name), none."""
    corners = [Vec(0, 0), Vec(window.x, 0), window, Vec(0, window.y)]
    if kind == "frame":
        ring = [*corners, corners[0]]
        path = Path(tuple(Line(a, b) for a, b in itertools.pairwise(ring)))
        return (Drawn(path=path, width=0.2),), ()
    if kind == "crosses":
        strokes = [
            Drawn(path=Path((Line(c - d, c + d),)), width=0.2)
            for c in corners
            for d in (Vec(4.0, 0.0), Vec(0.0, 4.0))
        ]
        name = f"{'ABCDEFGH'[row]}{column + 1}"
        return tuple(strokes), ((name, window * 0.5, 12.0),)
    if kind == "halves":
        w, h = window
        sides = (
            ((0, h / 2 - 6), (8, h / 2), (0, h / 2 + 6)),
            ((w, h / 2 + 6), (w - 8, h / 2), (w, h / 2 - 6)),
            ((w / 2 - 6, 0), (w / 2, 8), (w / 2 + 6, 0)),
            ((w / 2 - 6, h), (w / 2, h - 8), (w / 2 + 6, h)),
        )
        drawn = tuple(Drawn(path=polyline(s), width=0.2) for s in sides)
        return drawn, ((f"{row + 1}/{column + 1}", Vec(14.0, h / 2), 5.0),)
    return (), ()


def tiled(sheet: Sheet, kind: str) -> bytes:
    """Return a PDF of A4 pages. kind: "whole", "frame", "crosses", "halves", "overlap"."""
    from reportlab.pdfgen.canvas import Canvas

    window = A4 - Vec(2 * MARGIN, 2 * MARGIN)
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(A4.x * MM, A4.y * MM))
    if kind == "whole":
        canvas.beginForm("all")
        _draw(canvas, sheet, Vec(0.0, 0.0))
        canvas.endForm()
    overlap = OVERLAP if kind in ("overlap", "whole") else 0.0
    for column, row, at in tiles_of(sheet, window, overlap):
        corner = Vec(MARGIN, MARGIN)
        if kind == "whole":
            canvas.saveState()
            clip = canvas.beginPath()
            clip.rect(MARGIN * MM, MARGIN * MM, window.x * MM, window.y * MM)
            canvas.clipPath(clip, stroke=0)
            canvas.translate((corner - at).x * MM, (corner - at).y * MM)
            canvas.doForm("all")
            canvas.restoreState()
        else:
            _draw(canvas, part_of(sheet, at, window), corner)
        strokes, words = marks(kind, window, column, row)
        _draw(canvas, Sheet(width=1, height=1, lines=strokes, words=words), corner)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw(canvas, sheet: Sheet, by: Vec) -> None:
    for line in sheet.lines:
        canvas.setLineWidth(line.width * MM)
        canvas.setStrokeColorRGB(*line.colour)
        canvas.setDash([d * MM for d in line.dash] or [])
        canvas.drawPath(
            _reportlab_path(canvas, line.path.transformed(translation(by))), stroke=1, fill=0
        )
    for words, at, size in sheet.words:
        canvas.setFont("Helvetica", size * MM)
        canvas.drawCentredString((at.x + by.x) * MM, (at.y + by.y) * MM, words)
