"""SVG drawings made elsewhere: paths, polygons, transforms, `use`, units."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from typing import Any

import svgelements as svg
from svgelements import SVG, Arc, Close, CubicBezier, Move, QuadraticBezier, Shape
from svgelements import Line as SvgLine
from svgelements import Path as SvgPath

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Drawing, DrawnLine, Reader
from clothwright.intake.safe_xml import safe_xml

READER = Reader(id="svg", title="SVG drawing", suffixes=(".svg",))

PX_MM = 25.4 / 96.0
"""mm in one CSS pixel: the reader counts in pixels, an inch being 96 of them."""
ARC_STEP = math.pi / 8
"""Arcs become cubics of at most this turn: within 3e-7 of the radius of the true circle."""
CLOSE_MM = 1e-3
PHYSICAL = re.compile(r"^\s*[+-]?[\d.]+(?:e[+-]?\d+)?\s*(mm|cm|in|pt|pc|q)\s*$", re.IGNORECASE)


def is_annotated(data: bytes) -> bool:
    """Tell whether an SVG carries our own annotation (docs/file-format.md)."""
    return b"data-clothwright-piece" in data


def read_svg(data: bytes, name: str) -> Drawing:
    """Return the lines of an SVG drawing in mm, y up. Raises BadInput that names the file.

    Every transform, `use` and inner unit is applied. Lines are exact; arcs become cubics within
    `ARC_STEP`'s error. Texts, pictures and clipped parts are counted and left out.
    """
    root = safe_xml(data, name)
    if root.tag.rsplit("}", 1)[-1] != "svg":
        raise BadInput(
            where=name,
            what=f'the file holds "{root.tag.rsplit("}", 1)[-1]}", not a drawing',
            expected="an svg element at the top",
        )
    known = bool(PHYSICAL.match(root.get("width", "")) and PHYSICAL.match(root.get("height", "")))
    try:
        drawing = SVG.parse(io.BytesIO(data), reify=True, ppi=96.0)
        elements = list(drawing.elements())
    except (ValueError, TypeError, AttributeError, KeyError, IndexError, ArithmeticError) as error:
        raise BadInput(
            where=name, what=f"the drawing cannot be made out ({error})", expected="plain SVG"
        ) from None
    scale = PX_MM if known else 1.0
    lines: list[DrawnLine] = []
    skipped = 0
    for element in elements:
        if isinstance(element, svg.Text | svg.Image):
            skipped += 1
        if not isinstance(element, Shape) or _hidden(element):
            continue
        lines.extend(_lines(element, scale, name))
    notes = (f"{skipped} texts or pictures were not read",) if skipped else ()
    return Drawing(name=name, lines=tuple(lines), scale_known=known, notes=notes)


def _hidden(element: Any) -> bool:
    values = element.values
    return bool(values.get("display") == "none" or values.get("visibility") == "hidden")


def _lines(element: Shape, scale: float, name: str) -> Iterator[DrawnLine]:
    label = str(
        element.values.get("{http://www.inkscape.org/namespaces/inkscape}label") or element.id or ""
    )
    try:
        whole = SvgPath(element)
        parts = [SvgPath(p) for p in whole.as_subpaths()]
    except (ValueError, TypeError, ArithmeticError) as error:
        raise BadInput(
            where=f"{name}, {label or 'a line'}", what=f"cannot be read ({error})"
        ) from None
    for part in parts:
        segments = list(_segments(part, scale, f"{name}, {label or 'a line'}"))
        if not segments:
            continue
        closed = any(isinstance(s, Close) for s in part) or (
            segments[0].start.distance(segments[-1].end) < CLOSE_MM
        )
        yield DrawnLine(path=Path(tuple(segments)), closed=closed, label=label)


def _segments(part: SvgPath, scale: float, where: str) -> Iterator[Segment]:
    def vec(p: Any) -> Vec:
        v = Vec(float(p.x) * scale, -float(p.y) * scale)
        if not (math.isfinite(v.x) and math.isfinite(v.y)) or max(abs(v.x), abs(v.y)) > 1e6:
            raise BadInput(
                where=where, what="a point lies nowhere on a table", expected="plain numbers"
            )
        return v

    at: Vec | None = None
    for s in part:
        if isinstance(s, Move):
            at = vec(s.end)
            continue
        if s.start is None or s.end is None:
            continue
        start = at if at is not None else vec(s.start)
        made = list(_made(s, start, vec))
        for segment in made:
            if segment.start.distance(segment.end) > 1e-9 or isinstance(segment, Cubic):
                yield segment
        at = made[-1].end if made else start


def _made(s: Any, start: Vec, vec: Any) -> Iterator[Segment]:
    if isinstance(s, SvgLine | Close):
        yield Line(start, vec(s.end))
    elif isinstance(s, CubicBezier):
        yield Cubic(start, vec(s.control1), vec(s.control2), vec(s.end))
    elif isinstance(s, QuadraticBezier):
        c, end = vec(s.control), vec(s.end)
        yield Cubic(start, start + (c - start) * (2 / 3), end + (c - end) * (2 / 3), end)
    elif isinstance(s, Arc):
        n = max(1, math.ceil(abs(s.sweep) / ARC_STEP))
        at = start
        for cubic in s.as_cubic_curves(n):
            end = vec(cubic.end)
            yield Cubic(at, vec(cubic.control1), vec(cubic.control2), end)
            at = end
