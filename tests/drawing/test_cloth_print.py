"""Every figure in every copy: on the cloth, the lay, the garment and the piece.

Held against lattices written out with numpy and circles cut by shapely (general-purpose
libraries), which share nothing with the print's motions.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from shapely import Point, Polygon, box, unary_union

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.drawing.assembled import assembled
from clothwright.drawing.cloth import cloth_picture
from clothwright.drawing.cloth_print import FEW, MANY, print_inside, worn_inside
from clothwright.drawing.garment import view_picture
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.printed import printed_piece
from clothwright.drawing.style import TABLE
from clothwright.lay.compiled import Compiled
from clothwright.lay.result import Lay, Placement
from clothwright.lay.solve import solve
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.picture.picture import DrawnRole, Fill, Picture, Stroke, Text
from clothwright.rules.compile import compile_lay
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from tests.lay.panels import skirt

RADIUS = 100.0
PEONY = Figure(name="peony", x=150.0, y=180.0, radius=RADIUS)
DESIGN = Print(repeat_along=640.0, repeat_across=320.0, drop="half-drop", figures=(PEONY,))
CLOTH = Cloth(name="c", width=1400.0, length=3000.0, print=DESIGN)
Rings = list[Polygon]


def lattice(design: Print) -> np.ndarray:
    """Every place of the first figure between -3 and 6 m, by columns and rows written out."""
    i, j = (k.ravel() for k in np.meshgrid(np.arange(-12, 24), np.arange(-24, 48)))
    along, across = design.repeat_along or 0.0, design.repeat_across or 0.0
    x = design.figures[0].x + i * along + (j % 2) * along / 2 * (design.drop == "half-drop")
    y = design.figures[0].y + j * across + (i % 2) * across / 2 * (design.drop == "brick")
    return np.column_stack([x, y])


def rings(picture: Picture) -> Rings:
    """Return the rings of all figures in a picture."""
    fills = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.MOTIF]
    paths = [path for fill in fills for path in (fill.path, *fill.holes)]
    return [Polygon([s.start for s in path.segments]) for path in paths]


def hold(drawn: Rings, places: np.ndarray, window: Polygon) -> int:
    """Hold drawn figures against circles about places, cut by a window; tell how many are whole."""
    circles = [Point(p).buffer(RADIUS, quad_segs=32) for p in places]
    seen = [c.intersection(window) for c in circles if c.intersects(window)]
    expected = unary_union([s for s in seen if s.area > 1.0])
    assert unary_union(drawn).symmetric_difference(expected).area < 0.01 * expected.area
    whole = [p for p in places if Point(p).buffer(RADIUS + 1.0).within(window)]
    middles = [np.array(d.centroid.coords[0]) for d in drawn]
    for place in whole:
        assert min(np.linalg.norm(m - place) for m in middles) < 0.1
    return len(whole)


@pytest.fixture(scope="module")
def laid() -> tuple[Compiled, Lay]:
    """A skirt with a large motif, laid without a rule."""
    compiled = compile_lay(skirt(), (CLOTH,), Plan(name="p", rules=()), gap=2.0)
    return compiled, solve(compiled.problem, seconds=30.0, rounds=1, seed=1)


@pytest.mark.parametrize("drop", ["straight", "half-drop", "brick"])
def test_every_figure_lies_on_the_cloth(drop: str) -> None:
    """Half-drop: every second column half a repeat along; brick: every second row half across."""
    design = replace(DESIGN, drop=drop)
    picture = cloth_picture(replace(CLOTH, print=design), Unit.cm)
    assert hold(rings(picture), lattice(design), box(0, 0, 3000, 1400)) > 12


def test_every_figure_lies_on_the_lay(laid: tuple[Compiled, Lay]) -> None:
    """All over the cloth, under the pieces too; the pieces let them show."""
    picture = lay_picture(*laid, "c", Unit.cm)
    assert hold(rings(picture), lattice(DESIGN), box(0, 0, 3000, 1400)) > 12


def onto(placement: Placement, places: np.ndarray) -> np.ndarray:
    """Return places of the cloth as they lie in the frame of a piece."""
    turn = np.radians(-placement.turn_deg)
    back = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return (places - (placement.x, placement.y)) @ back.T


def test_every_figure_lies_on_the_garment(laid: tuple[Compiled, Lay]) -> None:
    """On each piece of front and back as the lay has it, cut at the stitching line."""
    compiled, lay = laid
    placed, whole = {p.shape: p for p in lay.placements}, 0
    for view in assembled(skirt(), compiled)[0].views:
        for part in view.parts:
            m = part.move
            turn = np.array([[m.a, m.c], [m.b, m.d]])
            places = onto(placed[part.shape], lattice(DESIGN)) @ turn.T + (m.e, m.f)
            drawn = rings(view_picture(replace(view, parts=(part,)), compiled, lay))
            whole += hold(drawn, places, Polygon(part.outline))
    assert whole > 0


def test_every_figure_lies_on_the_piece(laid: tuple[Compiled, Lay]) -> None:
    """What the cutting line leaves of every copy; upside down is seen, so nothing is mirrored."""
    compiled, lay = laid
    for placement in lay.placements:
        drawn = rings(printed_piece(compiled, placement))
        window = Polygon(placement.outline)
        cut = [Point(p).buffer(RADIUS, quad_segs=32).intersection(window) for p in lattice(DESIGN)]
        expected = sorted(c.area for c in cut if c.area > 1.0)
        assert sorted(d.area for d in drawn) == pytest.approx(expected, rel=0.01, abs=5.0)


def test_mirror_lines_are_not_worn() -> None:
    """They are said of the print, not printed: on the cloth they are drawn, on the garment not."""
    design = replace(DESIGN, axes_along=(0.0, 320.0), axes_across=(160.0,))
    square = ((0.0, 0.0), (900.0, 0.0), (900.0, 900.0), (0.0, 900.0))
    cloth = replace(CLOTH, print=design)
    drawn, worn = print_inside(square, cloth), worn_inside(square, cloth)
    lines = {i for i in drawn if i.role is DrawnRole.LEVEL}
    assert len(lines) > 4
    assert [i for i in drawn if i not in lines] == list(worn)


def one(design: Print, side: float = 600.0) -> Rings:
    """Return the rings of the figures in a square of cloth."""
    square = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
    cloth = Cloth(name="c", width=side, length=side, print=design)
    return rings(Picture(items=print_inside(square, cloth)))


@pytest.mark.parametrize(
    ("up", "way"), [("end", (1, 0)), ("start", (-1, 0)), ("upper", (0, 1)), ("lower", (0, -1))]
)
def test_the_tip_of_a_figure_points_up(up: str, way: tuple[int, int]) -> None:
    """The farthest corner of the drop from the figure's middle lies towards the print's up."""
    rose = Figure(name="rose", x=300.0, y=300.0, radius=90.0)
    disc, drop = one(Print(figures=(rose,), up=up))
    assert disc.contains(drop)
    corners = np.array(drop.exterior.coords) - (300.0, 300.0)
    tip = corners[np.argmax(np.linalg.norm(corners, axis=1))]
    assert tip / np.linalg.norm(tip) == pytest.approx(way, abs=1e-6)
    assert len(one(Print(figures=(rose,)))) == 1


def test_mirrored_copies_are_mirrored() -> None:
    """A figure off the mirror line has a dot on one side, its mirrored copy on the other."""
    rose = Figure(name="rose", x=200.0, y=300.0, radius=90.0)
    design = Print(repeat_across=600.0, axes_across=(450.0,), figures=(rose,), up="end")
    dots = sorted(r.centroid.y for r in one(design, 900.0) if r.area < 0.1 * 90.0**2)
    dots = [y for y in dots if 150.0 < y < 750.0]
    assert len(dots) == 2
    assert dots[0] - 300.0 == pytest.approx(-(dots[1] - 600.0), abs=0.1)
    assert abs(dots[0] - 300.0) > 30.0
    on_line = replace(design, figures=(replace(rose, y=450.0),))
    assert not [r for r in one(on_line, 900.0) if r.area < 0.1 * 90.0**2]


def test_a_piece_of_one_hand_alone_has_the_dot_too() -> None:
    """Which side the dot is on tells one copy's hand, though no mirrored one lies on the piece."""
    rose = Figure(name="rose", x=200.0, y=300.0, radius=90.0)
    design = Print(repeat_across=600.0, axes_across=(400.0,), figures=(rose,), up="end")
    assert len([r for r in one(design, 400.0) if r.area < 0.1 * 90.0**2]) == 1


@pytest.mark.parametrize("repeats", [(120.0, 80.0), (None, 80.0), (120.0, None)])
def test_a_ground_without_figures_shows_its_up(repeats: tuple[float | None, float | None]) -> None:
    """A one-way check or stripe: a drop in every repeat, its tip towards the print's up."""
    along, across = repeats
    drops = one(Print(repeat_along=along, repeat_across=across, up="lower"))
    assert len(drops) > 10
    for drop in drops:
        corners = np.array(drop.exterior.coords) - drop.centroid.coords[0]
        if drop.bounds[0] > 1 and drop.bounds[1] > 1 and max(drop.bounds[2:]) < 599:
            tip = corners[np.argmax(np.linalg.norm(corners, axis=1))]
            assert tip / np.linalg.norm(tip) == pytest.approx((0.0, -1.0), abs=0.01)
    assert one(Print(repeat_along=along, repeat_across=across)) == []


def test_the_ground_stops_at_a_border_and_the_border_has_its_own() -> None:
    """No figure of the ground reaches into a band; the band's mark comes again with its repeat."""
    vine = Border(name="vine", side="lower", base=50.0, height=100.0, repeat=120.0)
    rose = Figure(name="rose", x=100.0, y=200.0, radius=80.0)
    ground = Print(repeat_along=300.0, repeat_across=150.0, figures=(rose,))
    drawn = one(replace(ground, borders=(vine,)))
    marks = [r for r in drawn if r.centroid.y < 150.0 and r.centroid.y > 50.0]
    whole = [r for r in marks if r.bounds[0] > 9 and r.bounds[2] < 590]
    assert sorted(round(r.centroid.x) for r in whole) == [120, 240, 360, 480]
    bud = Figure(name="bud", x=30.0, y=100.0, radius=20.0)
    own = one(replace(ground, borders=(vine,), figures=(bud,)))
    discs = [r for r in own if r.area > 2 * 20.0**2]
    places = sorted((round(r.centroid.x), round(r.centroid.y)) for r in discs)
    assert places == [(x, 100) for x in (30, 150, 270, 390, 510)]
    assert len(own) == 2 * len(discs), "each has its drop, and there is no mark"
    assert all(r.within(box(-1, 50, 601, 150)) or r.disjoint(box(0, 51, 600, 149)) for r in drawn)


def test_figures_that_overlap_are_one_area() -> None:
    """Where two figures cross nothing is left open: the area is that of shapely's union."""
    pair = tuple(Figure(name=n, x=x, y=300.0, radius=90.0) for n, x in (("a", 250.0), ("b", 330.0)))
    for design in (Print(figures=pair), Print(figures=pair[:1], repeat_along=100.0)):
        drawn = one(design)
        assert unary_union(drawn).area == pytest.approx(unary_union(drawn).buffer(0).area)
    close = one(Print(figures=pair[:1], repeat_along=100.0))
    assert len(close) == 1


@pytest.mark.parametrize(("repeat", "corners"), [(60.0, 4), (3.0, 0)])
def test_very_many_figures_are_drawn_plainly(repeat: float, corners: int) -> None:
    """So many that none could be told from the next have few corners; far more are left out."""
    bud = Figure(name="bud", x=1.0, y=1.0, radius=0.4 * repeat)
    design = Print(repeat_along=repeat, repeat_across=repeat / 2, figures=(bud,), up="end")
    drawn = one(design, 2000.0)
    count = (2000 / repeat) * (2000 / repeat * 2)
    assert count > (FEW if corners else MANY)
    assert {len(r.exterior.coords) - 1 for r in drawn if r.bounds[0] > 1 and r.bounds[1] > 1} in (
        {corners},
        set(),
    )


def test_lines_of_a_half_drop_are_set_off() -> None:
    """Column by column the lines across lie half a repeat on; none runs through two columns."""
    design = Print(repeat_along=200.0, repeat_across=100.0, drop="half-drop")
    square = ((0.0, 0.0), (600.0, 0.0), (600.0, 300.0), (0.0, 300.0))
    items = print_inside(square, Cloth(name="c", width=300.0, length=600.0, print=design))
    across = [
        (i.path.start.x, min(i.path.start.y, i.path.end.y), abs(i.path.end.y - i.path.start.y))
        for i in items
        if isinstance(i, Stroke) and i.path.start.x == i.path.end.x
    ]
    assert {length for _, _, length in across} == {100.0}
    assert {x for x, low, _ in across if low == 0.0} == {0.0, 200.0, 400.0, 600.0}
    assert {x for x, low, _ in across if low == 100.0} == {100.0, 300.0, 500.0}


def test_a_print_read_back_from_a_pdf_is_where_it_was() -> None:
    """Rendered at 150 dots an inch by pypdfium2: a dark disc, a light drop upright in it."""
    design = replace(DESIGN, up="upper", figures=(replace(PEONY, x=40.0, y=45.0, radius=20.0),))
    design = replace(design, repeat_along=120.0, repeat_across=60.0)
    cloth = Cloth(name="c", width=160.0, length=240.0, print=design)
    square = ((0.0, 0.0), (240.0, 0.0), (240.0, 160.0), (0.0, 160.0))
    picture = Picture(items=print_inside(square, cloth)).only({DrawnRole.MOTIF})
    data = pdf_of_pages([PdfPage(240.0, 160.0, "1", (PagePart(picture, TABLE),))], "t")
    dots = 150 / 25.4
    image = np.asarray(pypdfium2.PdfDocument(BytesIO(data))[0].render(scale=150 / 72).to_pil())
    seen = 0
    for x, y in lattice(design):
        if 20 < x < 220 and 20 < y < 140:
            at = lambda dx, dy: image[int((160 - y - dy) * dots), int((x + dx) * dots)]  # noqa: E731, B023
            assert tuple(at(14, 0)) == tuple(bytes.fromhex(TABLE.fills[DrawnRole.MOTIF][1:]))
            assert tuple(at(0, -6)) == (255, 255, 255)
            assert tuple(at(0, 10)) == (255, 255, 255)
            assert tuple(at(5, 12)) != (255, 255, 255)
            seen += 1
    assert seen == 3


@pytest.mark.parametrize(
    ("repeat", "told"),
    [
        (150.0, ""),
        (40.0, "The motif “dot” comes so often that it is drawn here as plain spots"),
        (8.0, "The motif “dot” comes so often that it is left out here"),
    ],
)
def test_what_is_not_drawn_in_full_is_said_below_the_cloth(repeat, told):
    """On 2 m of cloth 1 m wide: 91, 1,250 and 31,250 copies, by division."""
    dot = Figure(name="dot", x=1.0, y=1.0, radius=repeat / 4)
    design = Print(repeat_along=repeat, repeat_across=repeat, figures=(dot,))
    cloth = Cloth(name="c", width=1000.0, length=2000.0, print=design)
    for picture in (cloth_picture(cloth, Unit.cm), cloth_picture(cloth, Unit.inch)):
        said = [i for i in picture.items if isinstance(i, Text) and "dot" in i.words]
        assert [i.words[: len(told)] for i in said] == [told][: bool(told)]
        lowest = min(i.at.y for i in picture.items if isinstance(i, Text) and i not in said)
        assert all(i.at.y < lowest for i in said)
