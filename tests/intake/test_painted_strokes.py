"""Strokes that were turned into the areas they cover are read along their middle.

The outside is shapely's stroker (`buffer`), which draws the areas; what was stroked is what has to
come back. Cost: about a second in all.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import LinearRing, LineString, Point, Polygon
from shapely.ops import substring

from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.intake import middle_line
from clothwright.intake.answers import Answers
from clothwright.intake.svg import read_svg
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Shape, Word, area, box, line
from tests.intake.proposing import propose, questions

JOINS = ("round", "mitre", "bevel")
CURVE = tuple(
    (300 - 110 * t + 40 * t * (1 - t), 440 - 60 * np.sin(np.pi * t)) for t in np.linspace(0, 1, 40)
)
SKIRT = ((60.0, 60.0), (300.0, 60.0), *CURVE, (180.0, 380.0), (80.0, 450.0))
"""A piece with a curved edge, a corner that turns inwards and a sharp one."""
NAME = Word(text="Skirt front", at=(140, 250), size=9.0)


def rings_of(stroke: Polygon) -> tuple[tuple[tuple[float, float], ...], ...]:
    return tuple(tuple(r.coords) for r in (stroke.exterior, *stroke.interiors))


def painted(*rings, fill: str = "#000000") -> Shape:
    return Shape(rings=rings, closed=True, stroke="", fill=fill)


def stroked(points, wide: float, how: str = "one path", **look) -> list[Shape]:
    """A closed line as the area that a pen covers, written in one of several ways."""
    rings = rings_of(LinearRing(points).buffer(wide / 2, **look))
    if how == "one path":
        return [painted(*rings)]
    if how == "one path, the hole first":
        return [painted(rings[1][::-1], rings[0])]
    return [painted(rings[0]), painted(rings[1], fill="#ffffff" if "white" in how else "#000000")]


def strip(points, wide: float = 0.6, **look) -> Shape:
    """An open line as the area that a pen covers."""
    return painted(*rings_of(LineString(points).buffer(wide / 2, **look)))


def off(found: Path, drawn) -> float:
    """How far a closed line lies from the points that were stroked, both ways, at most."""
    return LinearRing(found.flatten(0.001)).hausdorff_distance(LinearRing(drawn))


def paths(drawing, way: str, *, closed: bool = True) -> list[Path]:
    """The large lines of a drawing, from its lower left corner."""
    up = translation((0.0, 500.0 if way == "svg" else 0.0))
    found = [x.path for x in drawing.lines if x.closed == closed and x.path.length > 50]
    return [p.transformed(up) for p in found]


@pytest.mark.parametrize(
    ("way", "how"),
    [
        *(("svg", how) for how in ("one path", "two paths", "two paths, white inside")),
        *(("pdf", how) for how in ("one path, the hole first", "two paths")),
    ],
)
def test_a_ring_is_the_line_in_its_middle(way: str, how: str) -> None:
    """However the two sides of a closed stroke are written, the pen went between them."""
    drawing = Plain(shapes=tuple(stroked(SKIRT, 0.8, how)), words=(NAME,)).read(way)
    (found,) = paths(drawing, way)
    assert off(found, SKIRT) < 0.08
    (piece,) = propose(drawing, Answers(allowance="none"), unit=Unit.mm).pieces
    assert piece.name == "Skirt front"


@pytest.mark.parametrize("join", JOINS)
@pytest.mark.parametrize("wide", [0.3, 1.5])
def test_corners_of_a_ring_are_where_the_pen_turned(join: str, wide: float) -> None:
    """Round, mitred or cut off, outwards or inwards: the corner is that of the line."""
    corners = ((60, 60), (300, 60), (290, 300), (200, 120), (150, 400), (80, 380))
    for points in (corners, corners[::-1]):
        shapes = stroked(points, wide, join_style=join, mitre_limit=4.0)
        (found,) = paths(Plain(shapes=tuple(shapes)).read("svg"), "svg")
        assert off(found, points) < 0.02
        assert len(found.segments) == len(corners)


ARC = np.linspace(0, np.pi / 2, 60)
POCKET = [
    np.array([(60.0, 60.0), (110.0, 60.0)]),
    np.array([(110.0, 60.0), (110.0, 96.0)]),
    np.stack([110 - 9 * np.sin(ARC), 105 - 9 * np.cos(ARC)], axis=1),
    np.array([(101.0, 105.0), (60.0, 140.0)]),
    np.array([(60.0, 140.0), (60.0, 60.0)]),
]
"""A closed line of edges, counter-clockwise; one is an arc whose radius is 9 mm."""


def beside(edges, away: float) -> tuple[tuple[float, float], ...]:
    """A side of a stroke as some programs draw it, away to the right of each edge.

    Where the sides part a corner stands out to its tip, and where they cross, each runs to its own
    end and the two are joined through the corner of the line.
    """
    moved = []
    for edge in edges:
        way = np.gradient(edge, axis=0)
        moved.append(edge + away * np.stack([way[:, 1], -way[:, 0]], 1) / np.hypot(*way.T)[:, None])
    out = []
    for k, here in enumerate(moved):
        after, corner = moved[(k + 1) % len(moved)], edges[k][-1]
        u, v = here[-1] - here[-2], after[1] - after[0]
        across, gap = u[0] * v[1] - u[1] * v[0], after[0] - here[-1]
        tip = here[-1] + u * (gap[0] * v[1] - gap[1] * v[0]) / across
        out += [*here, tip if across * away > 0 else corner]
    return tuple((float(x), float(y)) for x, y in out)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("wide", [0.5, 1.2, 2.4])
def test_sides_that_run_through_the_corners_of_the_line(wide: float, way: str) -> None:
    """The corner of a curve is where the pen turned, not where its tangents a way before meet."""
    sides = (beside(POCKET, wide / 2), beside(POCKET, -wide / 2))
    (found,) = paths(Plain(shapes=(painted(*sides),)).read(way), way)
    assert off(found, np.vstack(POCKET)[:-1]) < 0.05


@pytest.mark.parametrize("way", WAYS)
def test_sizes_close_in_each_other_keep_apart(way: str) -> None:
    """Three outlines 0.9 mm apart with a pen of 0.5 mm: what lies between two is no stroke."""
    drawn = [LinearRing(SKIRT).parallel_offset(d, "left", join_style=2) for d in (0.9, 1.8)]
    drawn = [tuple(SKIRT), *(tuple(d.coords)[:-1] for d in drawn)]
    shapes = [s for points in drawn for s in stroked(points, 0.5)]
    found = paths(Plain(shapes=tuple(shapes)).read(way), way)
    assert len(found) == 3
    for points in drawn:
        assert min(off(f, points) for f in found) < 0.08


@pytest.mark.parametrize(
    ("cap", "join"), [("flat", "mitre"), ("flat", "bevel"), ("round", "round")]
)
@pytest.mark.parametrize(
    "points",
    [
        ((0, 0), (200, 30)),
        ((0, 0), (20, 150), (38, 5)),
        ((0, 0), (40, 0), (20, 40), (80, 40)),
        tuple((100 * t, 30 * np.sin(4 * t)) for t in np.linspace(0, 1, 60)),
    ],
    ids=["line", "dart", "zigzag", "curve"],
)
def test_an_open_stroke_is_the_line_in_its_middle(cap: str, join: str, points) -> None:
    """A grain line, the legs of a dart, a bent line inside: to the ends and corners of the line."""
    moved = [(x + 50, y + 50) for x, y in points]
    shape = strip(moved, cap_style=cap, join_style=join)
    (found,) = paths(Plain(shapes=(shape,)).read("svg"), "svg", closed=False)
    away = LineString(found.flatten(0.001)).hausdorff_distance(LineString(moved))
    assert away < 0.08


def details(look) -> tuple[Shape, ...]:
    """What is drawn in a piece: a dart of two legs, a grain arrow, a notch, a line inside."""
    return tuple(
        look(points)
        for points in (
            ((150, 60), (160, 150)),
            ((170, 60), (160, 150)),
            ((200, 130), (200, 330)),
            ((194, 318), (200, 330), (206, 318)),
            ((110, 200), (230, 200)),
            ((240, 60), (240, 66)),
        )
    )


@pytest.mark.parametrize("way", WAYS)
def test_what_lies_in_a_piece_is_read_as_if_it_were_lines(way: str) -> None:
    """Darts, grain, notches and marks of areas are those of the same drawing with a pen."""
    pen = Plain(shapes=(area(*SKIRT), *details(lambda p: line(*p))), words=(NAME,))
    brush = Plain(
        shapes=(*stroked(SKIRT, 0.6), *details(lambda p: strip(p, cap_style="flat"))),
        words=(NAME,),
    )
    first, second = (
        propose(sheet.read(way), Answers(allowance="none"), unit=Unit.mm).pieces[0]
        for sheet in (pen, brush)
    )
    assert len(first.darts) == len(second.darts) == 1
    assert first.darts[0].point.distance(second.darts[0].point) < 0.1
    assert [len(e.notches) for e in first.edges] == [len(e.notches) for e in second.edges]
    assert sum(len(e.notches) for e in second.edges) == 1
    assert len(first.marks) == len(second.marks) == 1
    assert first.grain is not None
    assert second.grain is not None
    assert first.grain.end.distance(second.grain.end) < 0.1


def dashes(ring, dash: float, gap: float, wide: float) -> list[Shape]:
    """A closed line as dashes, evenly round it."""
    whole, out = LinearRing(ring), []
    for at in np.linspace(0.0, whole.length, round(whole.length / (dash + gap)) + 1)[:-1]:
        part = substring(whole, at, at + dash)
        out.append(painted(*rings_of(part.buffer(wide / 2, cap_style="flat", join_style="mitre"))))
    return out


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("alone", [True, False], ids=["an area each", "one path"])
def test_dashes_of_areas_are_one_line(way: str, alone: bool) -> None:
    """As in a PDF that was read before: now in SVG, too, and where one path holds them all."""
    shapes = dashes(SKIRT, 6.0, 3.0, 0.6)
    if not alone:
        shapes = [painted(*(s.rings[0] for s in shapes))]
    (found,) = paths(Plain(shapes=tuple(shapes)).read(way), way)
    assert off(found, SKIRT) < 0.1


KITE = np.array([(60.0, 60.0), (300.0, 70.0), (250.0, 300.0), (90.0, 260.0)])


def bent_dash(points, wide: float, cap: str) -> Shape:
    """A dash as some programs draw it: its outer corner to the tip, its inner through the line."""
    edges = [np.array(pair) for pair in pairwise(points)]
    ways = [(b - a) / np.hypot(*(b - a)) for a, b in edges]
    left = [np.array([-y, x]) * wide / 2 for x, y in ways]
    over = wide / 2 if cap == "square" else 0.0
    a, d = points[0] - over * ways[0], points[-1] + over * ways[-1]
    turn = np.linspace(0, np.pi, 12 if cap == "round" else 2)
    end = [d - left[-1] * np.cos(t) + ways[-1] * wide / 2 * np.sin(t) for t in turn]
    start = [a + left[0] * np.cos(t) - ways[0] * wide / 2 * np.sin(t) for t in turn]
    outer, inner = [], []
    if len(edges) > 1:
        c, half = np.array(points[1]), left[0] + left[1]
        outer, inner = (
            [c - half * (wide * wide / 2) / half.dot(half)],
            [c + left[1], c, c + left[0]],
        )
    return painted(tuple((float(x), float(y)) for x, y in (*outer, *end, *inner, *start)))


@pytest.mark.parametrize(
    ("way", "wide", "cap"),
    [("svg", 0.4, "flat"), ("pdf", 1.2, "flat"), ("svg", 1.2, "square"), ("pdf", 1.2, "round")],
)
def test_a_dash_that_turns_within_the_width_of_the_pen(way: str, wide: float, cap: str) -> None:
    """Wherever along it the corner stands, the dashes stay one line with its corners."""
    whole = LinearRing(KITE)
    turns = [whole.project(Point(c)) for c in KITE[1:]]
    for part in (0.0, 0.015, 0.15):
        shapes, first = [], (turns[0] - 8.0 * part) % 14.0 + 14.0
        for a in np.arange(first, first + whole.length - 14.0, 14.0):
            ats = [a, *(t for t in (*turns, whole.length) if a < t < a + 8.0), a + 8.0]
            bit = [np.array(whole.interpolate(t % whole.length).coords[0]) for t in ats]
            shapes.append(bent_dash(bit, wide, cap))
        (found,) = Plain(shapes=tuple(shapes)).read(way).lines
        up = translation((0.0, 500.0 if way == "svg" else 0.0))
        assert off(found.path.transformed(up), KITE) < 0.05


@pytest.mark.parametrize(
    ("way", "how", "side"),
    [
        ("svg", "one path", 50.0),
        ("svg", "two paths, white inside", 47.0),
        ("svg", "four strokes", 47.0),
        ("pdf", "one path", 47.0),
        ("pdf", "two paths, white inside", 50.0),
        ("pdf", "four strokes", 50.0),
    ],
)
def test_a_test_square_of_areas_is_measured_at_its_middle(way: str, side: float, how: str) -> None:
    """One that is true says so; one at 94 % makes the size a question with the right answer."""
    a, b, c, d = (320, 30), (320 + side, 30), (320 + side, 30 + side), (320, 30 + side)
    pairs = ((a, b), (b, c), (c, d), (d, a))
    square = (
        [strip(p, 0.8, cap_style="square") for p in pairs]
        if how == "four strokes"
        else stroked((a, b, c, d), 0.8, how, join_style="mitre")
    )
    words = (NAME, Word(text="50 mm", at=(334, 52), size=6.0))
    drawing = Plain(shapes=(*stroked(SKIRT, 0.8), *square), words=words).read(way)
    assert drawing.square is not None
    assert drawing.square.side == pytest.approx(side, abs=0.01)
    asked = [q.id for q in questions(drawing, Answers(allowance="none"), unit=Unit.mm)]
    assert asked == ([] if side == 50.0 else ["scale"])


@pytest.mark.parametrize("way", WAYS)
def test_what_no_pen_painted_stays_an_area(way: str) -> None:
    """A band of an allowance (6.35 mm), a pocket of 3.2 mm less all round, a filled dart."""
    band = stroked(SKIRT, 6.35)
    within = Polygon(((320, 30), (390, 30), (390, 100), (320, 100)))
    smaller = [painted(*rings_of(g)) for g in (within, within.buffer(-3.2, join_style="mitre"))]
    dart = painted(((330, 200), (350, 200), (340, 300)))
    found = Plain(shapes=(*band, *smaller, dart)).read(way).lines
    assert [x.closed for x in found] == [True] * 5


def test_a_pen_is_known_where_the_drawing_has_no_unit() -> None:
    """A pen of 1 mm in a drawing of 96 pixels to the inch is 3.8 of its units wide."""
    k = 96 / 25.4
    points = [(x * k, y * k) for x, y in SKIRT]
    sides = rings_of(LinearRing(points).buffer(k / 2))
    d = " ".join("M " + " L ".join(f"{x:.3f} {y:.3f}" for x, y in r) + " Z" for r in sides)
    data = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="1600" height="2000"><path d="{d}"/></svg>'
    )
    drawing = read_svg(data.encode(), "d.svg")
    assert not drawing.scale_known
    (found,) = [x.path for x in drawing.lines]
    assert off(found, [(x, -y) for x, y in points]) < 0.3


def test_boxes_far_apart_are_no_ring() -> None:
    """A box in the middle of a box is not the hole of a stroke, nor are two beside each other."""
    shapes = (
        box(10, 10, 100, 100, stroke="", fill="#000000"),
        box(40, 40, 40, 40, stroke="", fill="#000000"),
        box(110.5, 10, 100, 100, stroke="", fill="#000000"),
    )
    assert len(Plain(shapes=shapes).read("svg").lines) == 3


def test_what_is_far_wider_than_a_pen_is_not_searched_for_sides(monkeypatch):
    """A disc of 60 mm and a rounded sheet are no strokes: that took 10 s to find out."""
    asked = []
    monkeypatch.setattr(middle_line, "sides_of", lambda *ring: asked.append(ring) or ())
    body = '<circle cx="70" cy="80" r="30"/><rect x="200" y="6" width="70" height="40" rx="10"/>'
    page = 'xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm" viewBox="0 0 500 500"'
    assert len(read_svg(f"<svg {page}>{body}</svg>".encode(), "d.svg").lines) == 2
    assert asked == []
