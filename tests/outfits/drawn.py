"""What of a print an SVG shows, held against where the print is on the cloth.

The SVG is read as any other program would: rings and lines from its paths, the piece a part is of
from `data-group`. Where a part lies on the cloth is found by laying its outline on the piece's own,
turned and moved but never mirrored. Where figures and bars ought to be is reckoned from the words
of docs/file-format.md (`painted`), with shapely.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Point, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Figure
from clothwright.pattern.piece import Piece
from tests.outfits.bars import bar_lines, span
from tests.outfits.painted import Points, in_band, places_of
from tests.outfits.sewn import drawn, on_cloth

NAME = "{http://www.w3.org/2000/svg}"
SHOWS = ("cloth", "motif", "border")
EDGE_MM = 0.4
"""A round figure is drawn with corners: what lies so near its rim is not asked about."""


@dataclass
class Part:
    """A piece in an SVG: its outline, what is drawn on it. mm, y up, as the picture has it."""

    shape: str
    outline: Polygon
    figures: list[Points] = field(default_factory=list)
    bars: list[Points] = field(default_factory=list)
    bands: list[Points] = field(default_factory=list)


def rings(data: str) -> Iterator[Points]:
    """Yield the rings or lines of a path of straight lines, mm, y turned up."""
    for run in re.findall(r"M[^M]*", data):
        numbers = [float(v) for v in re.findall(r"-?\d+(?:\.\d+)?", run)]
        assert not re.search(r"[a-zCQHV]", run), run[:80]
        yield np.array(numbers).reshape(-1, 2) * [1.0, -1.0]


def parts(svg: str, whole: str = "") -> list[Part]:
    """Return the pieces of a picture in their order, each with what is drawn on it.

    whole: the name of an area that is no piece's, the cloth itself.
    """
    found: list[Part] = []
    for group in ET.fromstring(svg).iter(f"{NAME}g"):
        kind = group.get("class")
        for path in group.iter(f"{NAME}path") if kind in SHOWS else ():
            lines = list(rings(path.get("d", "")))
            area = path.get("class") == "area"
            if kind == "cloth" and area:
                found.append(Part(path.get("data-group") or whole, Polygon(lines[0])))
            elif found and kind == "motif":
                (found[-1].figures if area else found[-1].bars).extend(lines)
            elif found and kind == "border" and area:
                found[-1].bands.extend(lines)
    return found


def stitching(piece: Piece, placement: Mapping[str, object]) -> Polygon:
    """Return a piece's stitching line on the cloth, opened out at its fold, its darts cut out."""
    points: list[Points] = []
    for edge in piece.edges:
        if edge.role.value == "fold":
            continue
        line = drawn(piece, edge.name)
        gross = np.r_[0.0, np.cumsum(np.hypot(*np.diff(line, axis=0).T))]
        low = 0.0
        for dart in sorted((d for d in piece.darts if d.edge == edge.name), key=lambda d: d.a):
            points += [_between(line, gross, low, dart.a), np.array([tuple(dart.point)])]
            low = dart.b
        points.append(_between(line, gross, low, gross[-1]))
    names = [e.role.value for e in piece.edges]
    if "fold" in names:  # begin after the fold
        k = names.index("fold")
        before = sum(1 + 2 * sum(d.edge == e.name for d in piece.darts) for e in piece.edges[:k])
        points = points[before:] + points[:before]
    half = np.vstack(points)
    ring, _ = on_cloth(piece, half, placement, False)
    if "fold" in names:
        other, _ = on_cloth(piece, half, placement, True)
        ring = np.vstack([ring, other[::-1]])
    return shapely.make_valid(Polygon(ring)) if not Polygon(ring).is_valid else Polygon(ring)


def _between(line: Points, gross: Points, low: float, high: float) -> Points:
    inner = line[(gross > low) & (gross < high)]
    ends = [[np.interp(at, gross, line[:, k]) for k in (0, 1)] for at in (low, high)]
    return np.vstack([[ends[0]], inner, [ends[1]]])


def to_cloth(part: Polygon, own: Polygon) -> list[float] | None:
    """Return the move (six numbers) of a part onto its piece on the cloth; None if unlike.

    The middles are laid on each other; of all turns the one that leaves the least uncovered.
    """
    if abs(part.area / own.area - 1.0) > 0.002:
        return None

    def move(turn: float) -> list[float]:
        c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
        x, y = part.centroid.x, part.centroid.y
        return [c, -s, s, c, own.centroid.x - c * x + s * y, own.centroid.y - s * x - c * y]

    def bare(turn: float, pair: tuple[Polygon, Polygon]) -> float:
        turned = affinity.affine_transform(pair[0], move(turn))
        return float(turned.symmetric_difference(pair[1]).area)

    rough, fine = ((part.simplify(mm), own.simplify(mm)) for mm in (3.0, 0.02))
    best, step = min(np.arange(0.0, 360.0, 5.0), key=lambda turn: bare(turn, rough)), 2.5
    while step > 1e-3:
        best = min((best - step, best, best + step), key=lambda turn: bare(turn, fine))
        step /= 2
    return move(float(best)) if bare(best, fine) < 0.004 * own.area else None


@dataclass
class Count:
    """How many figures and mm of bars ought to be there, and what is wrong, a line each."""

    figures: int = 0
    upright: int = 0
    bars_mm: float = 0.0
    pieces: int = 0
    wrong: list[str] = field(default_factory=list)


def compare(part: Part, onto: list[float], cloth: Cloth, count: Count) -> None:
    """Hold what is drawn on a part against what is printed there."""
    outline = affinity.affine_transform(part.outline, onto)
    count.pieces += 1
    drawn_there = _filled([affinity.affine_transform(Polygon(r), onto) for r in part.figures])
    found = _figures(cloth, outline)
    for middle, radius, ground, up in found:
        inner = ground.intersection(outline).buffer(-0.1)
        if middle.buffer(radius - EDGE_MM).intersection(inner).area < 1.0:
            continue
        count.figures += 1
        rim = middle.buffer(radius - EDGE_MM).difference(middle.buffer(0.82 * radius))
        here = drawn_there.intersection(middle.buffer(radius).envelope)
        _inside(part, rim.intersection(inner), here, count, "a figure")
        if up is not None and middle.buffer(radius).within(inner):
            _upright(part, middle, radius, here, up, count)
    near = shapely.union_all([m.buffer(r + EDGE_MM) for m, r, _, _ in found])
    near = near.union(_borders(part, onto, outline, drawn_there, cloth, count))
    stray = drawn_there.difference(near)
    only_up = cloth.print.up != "either" and not any(
        _on_ground(f, cloth) for f in cloth.print.figures
    )
    if stray.area > 1.0 and not only_up:
        count.wrong.append(f"{part.shape}: {stray.area:.0f} mm2 of figures where none is printed")
    _bars(part, onto, outline, cloth, count)


def _borders(
    part: Part,
    onto: list[float],
    outline: Polygon,
    shown: BaseGeometry,
    cloth: Cloth,
    count: Count,
) -> BaseGeometry:
    """Compare each border's band and the mark at each of its repeats; return where marks may be."""
    bands = shapely.union_all(
        [affinity.affine_transform(Polygon(r).buffer(0), onto) for r in part.bands]
    )
    wanted = shapely.Polygon()
    marks: list[BaseGeometry] = []
    for border in cloth.print.borders:
        x0, _, x1, _ = outline.bounds
        low, right, high = span(border, cloth.width, x1 + 1)
        band = shapely.box(x0 - 1, low, right, high).intersection(outline)
        wanted = wanted.union(band)
        if any(low <= figure.y <= high for figure in cloth.print.figures):
            continue  # its own figures show where it comes again
        origin = (cloth.print.origin_along, (low + high) / 2)
        for x, y in places_of(origin, cloth, (x0 - high + low, low), (x1 + high - low, high)):
            half = min(border.repeat or cloth.print.repeat_along or 0.0, high - low) / 2
            mark = Point(x, y).buffer(half).intersection(band)
            marks.append(mark)
            if Point(x, y).buffer(0.2 * half).within(band):
                count.figures += 1
                if shown.intersection(mark).area < 1.0:
                    count.wrong.append(f"{part.shape}: the {border.name} has no mark at {x:.1f}")
    if wanted.symmetric_difference(bands).area > 1.0 + 0.001 * wanted.area:
        count.wrong.append(f"{part.shape}: a border of {wanted.area:.0f} mm2 is {bands.area:.0f}")
    return shapely.union_all(marks)


UP = {
    "end": np.array([1.0, 0.0]),
    "start": np.array([-1.0, 0.0]),
    "upper": np.array([0.0, 1.0]),
    "lower": np.array([0.0, -1.0]),
}


def _upright(
    part: Part, middle: Point, radius: float, shown: BaseGeometry, up: Points, count: Count
) -> None:
    """Look which way the tip of the drop that is open in a figure points."""
    holes = [Polygon(r) for a in shapely.get_parts(shown) for r in a.interiors]
    drop = max(holes, key=lambda h: h.area, default=None)
    if drop is None:
        count.wrong.append(f"{part.shape}: the figure at {middle.x:.1f} shows no way up")
        return
    corners = np.array(drop.exterior.coords) - (middle.x, middle.y)
    tip = corners[np.hypot(*corners.T).argmax()]
    off = np.degrees(np.arccos(np.clip(tip @ up / np.hypot(*tip), -1.0, 1.0)))
    count.upright += 1
    if off > 1.0 or np.hypot(*tip) < 0.5 * radius:
        count.wrong.append(
            f"{part.shape}: the figure at {middle.x:.1f} points {off:.0f} off its up"
        )


def _filled(areas: list[BaseGeometry]) -> BaseGeometry:
    """Return the area of the rings of one path: a ring within another is open."""
    whole = [a.buffer(0) for a in areas]
    if not whole:
        return Polygon()
    inner = {int(k) for k, n in shapely.STRtree(whole).query(whole, "within").T if k != n}
    outer = [a for k, a in enumerate(whole) if k not in inner]
    return shapely.union_all(outer).difference(shapely.union_all([whole[k] for k in inner]))


def _inside(part: Part, wanted: BaseGeometry, shown: BaseGeometry, count: Count, what: str) -> None:
    lacking = wanted.difference(shown).area
    if lacking > 0.02 * wanted.area + 0.5:
        at = wanted.representative_point()
        count.wrong.append(
            f"{part.shape}: {what} at {at.x:.1f}, {at.y:.1f} lacks {lacking:.0f} mm2"
        )


Figured = tuple[Point, float, BaseGeometry, Points | None]


def _figures(cloth: Cloth, outline: BaseGeometry) -> list[Figured]:
    """Return the middle and radius of every copy of every figure that may show on a piece.

    With each where it may show, the ground or its border, and which way is up there.
    """
    out: list[Figured] = []
    x0, y0, x1, y1 = outline.bounds
    bands = [shapely.box(x0 - 1, *span(b, cloth.width, x1 + 1)) for b in cloth.print.borders]
    for figure in cloth.print.figures:
        ground = shapely.box(x0, y0, x1, y1).difference(shapely.union_all(bands))
        up = UP.get(cloth.print.up)
        for border, band in zip(cloth.print.borders, bands, strict=True):
            if band.bounds[1] <= figure.y <= band.bounds[3]:
                ground, up = band, _border_up(border)
        r = figure.radius
        for x, y in places_of((figure.x, figure.y), cloth, (x0 - r, y0 - r), (x1 + r, y1 + r)):
            if Point(x, y).distance(outline) < r:
                out.append((Point(x, y), r, ground, up))
    return out


def _on_ground(figure: Figure, cloth: Cloth) -> bool:
    """Tell whether a figure is the ground's; a ground with a top and none shows it by itself."""
    spot = np.array([[figure.x, figure.y]])
    return not any(in_band(b, cloth.width, spot)[0] for b in cloth.print.borders)


def _border_up(border: Border) -> Points | None:
    """Return which way is up on a border: away from where its bottom faces."""
    if border.down == "either":
        return None
    outwards = -1.0 if border.side == "lower" else 1.0
    return np.array([0.0, -outwards if border.down == "selvedge" else outwards])


def _bars(part: Part, onto: list[float], outline: Polygon, cloth: Cloth, count: Count) -> None:
    """Compare the lines where the repeat begins anew: none missing, none too many."""
    wanted = bar_lines(cloth, outline.bounds).intersection(outline)
    shown = MultiLineString([affinity.affine_transform(LineString(r), onto) for r in part.bars])
    count.bars_mm += wanted.length
    missing = wanted.difference(shown.buffer(0.2)).length
    stray = shown.difference(wanted.buffer(0.2)).length
    for mm, what in ((missing, "are missing"), (stray, "are where none is")):
        if mm > 1.0 + 0.002 * wanted.length:
            count.wrong.append(f"{part.shape}: {mm:.0f} mm of bars {what}")
