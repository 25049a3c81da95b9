"""Pieces as a DXF drawing: a block each, layers by what a line means, curves exact."""

from __future__ import annotations

import io
from collections.abc import Sequence
from itertools import groupby

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment
from ezdxf.math import Bezier4P, Vec3, bezier_to_bspline

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import DrawnRole, Item, Picture, Stroke, Text

APART_MM = 50.0
COLOURS = {
    DrawnRole.CUT: 7,
    DrawnRole.STITCH: 1,
    DrawnRole.GRAIN: 3,
    DrawnRole.NOTCH: 5,
    DrawnRole.FOLD: 4,
}
NUMBERS = {
    DrawnRole.CUT: "1",
    DrawnRole.NOTCH: "4",
    DrawnRole.FOLD: "6",
    DrawnRole.GRAIN: "7",
    DrawnRole.STITCH: "14",
    DrawnRole.HEM: "14",
}
"""Layers as ASTM D6673 numbers them, from memory; every other line is an internal line, "8"."""
WORDS_NUMBER = "15"


def dxf(pictures: Sequence[Picture], *, numbered: bool = False) -> bytes:
    """Return pictures (mm) as one DXF drawing (R2010, $INSUNITS mm), side by side.

    Each picture is a block named by its title. Straight runs are polylines, curves are splines
    that are exactly the cubics. numbered: layers by the numbers of ASTM D6673 (from memory)
    instead of names. Areas are not written. Raises BadInput when there is nothing to write.
    """
    if not any(p.items for p in pictures):
        raise BadInput(what="there is nothing to draw", expected="at least one piece")
    file = ezdxf.new("R2010", setup=True)  # type: ignore[attr-defined]
    file.units = units.MM
    space = file.modelspace()
    x = 0.0
    taken: set[str] = set()
    for picture in pictures:
        if not picture.items:
            continue
        name = _name(picture.title or "piece", taken)
        block = file.blocks.new(name=name)
        for item in picture.items:
            layer = _number(item) if numbered else item.role.value
            if layer not in file.layers:
                file.layers.add(layer, color=COLOURS.get(item.role, 8))
            if isinstance(item, Stroke):
                _stroke(block, item, layer)
            elif isinstance(item, Text):
                _text(block, item, layer)
        box = picture.bounds()
        space.add_blockref(name, (x - box.low.x, -box.low.y))
        x += box.size.x + APART_MM
    out = io.StringIO()
    file.write(out)
    return out.getvalue().encode("utf-8")


def _number(item: Item) -> str:
    return WORDS_NUMBER if isinstance(item, Text) else NUMBERS.get(item.role, "8")


def _name(title: str, taken: set[str]) -> str:
    plain = "".join(c if c.isalnum() or c in " -_" else "-" for c in title).strip()[:60] or "piece"
    name = next(
        n for n in (plain, *(f"{plain} {k}" for k in range(2, 10_000))) if n.lower() not in taken
    )
    taken.add(name.lower())
    return name


def _stroke(block: object, stroke: Stroke, layer: str) -> None:
    """Write a line; one of straight lines only, and closed, as a closed polyline."""
    attributes = {"layer": layer}
    segments = stroke.path.segments
    if all(isinstance(s, Line) for s in segments):
        _polyline(block, stroke.path, attributes, closed=stroke.closed)
        return
    for straight, run in groupby(segments, key=lambda s: isinstance(s, Line)):
        part = tuple(run)
        if straight:
            _polyline(block, Path(part), attributes, closed=False)
        else:
            _spline(block, part, attributes)


def _polyline(block: object, path: Path, attributes: dict[str, str], *, closed: bool) -> None:
    points = [path.start, *(s.end for s in path.segments)]
    whole = closed and len(points) > 2 and points[0].distance(points[-1]) < 1e-6
    if whole:
        points = points[:-1]
    block.add_lwpolyline(  # type: ignore[attr-defined]
        [(p.x, p.y) for p in points], close=whole, dxfattribs=attributes
    )


def _spline(block: object, run: Sequence[Segment], attributes: dict[str, str]) -> None:
    curves = [Bezier4P([_v(p) for p in s.controls()]) for s in run]
    spline = block.add_spline(dxfattribs=attributes)  # type: ignore[attr-defined]
    spline.apply_construction_tool(bezier_to_bspline(curves))


def _v(p: Vec) -> Vec3:
    return Vec3(p.x, p.y, 0.0)


def _text(block: object, text: Text, layer: str) -> None:
    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[text.anchor]
    made = block.add_text(  # type: ignore[attr-defined]
        text.words,
        height=0.73 * text.size,
        rotation=text.angle_deg,
        dxfattribs={"layer": layer},
    )
    made.set_placement((text.at.x, text.at.y), align=align)
