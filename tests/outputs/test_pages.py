"""How many pages a drawing takes, which of them are printed, and what they are called."""

from __future__ import annotations

import itertools
import math
import random

import pytest
from shapely.geometry import Polygon, box

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.box import Box
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import quarter_arc
from clothwright.geometry.vec import Vec
from clothwright.outputs.pages import Grid, tiles
from clothwright.outputs.paper import Paper, parse_paper
from clothwright.outputs.trace import carrying, thrifty_tiles
from clothwright.picture import DrawnRole, Fill, Picture, Stroke, Text
from tests.outputs.specimens import cut, ring

A4 = parse_paper("A4")


def names(picture: Picture, grid: Grid) -> list[str]:
    return [tile.name for tile in carrying(picture, grid)]


@pytest.mark.parametrize(
    ("drawing", "paper", "margin", "rows", "columns"),
    [
        ("A0", "A4", 10.0, 5, 5),
        ("A0", "A4 landscape", 10.0, 7, 4),
        ("A1", "A4", 10.0, 4, 4),
        ("A0", "A3", 10.0, 3, 4),
        ("Arch E", "Letter", 12.7, 5, 5),
        ("ANSI E", "Letter", 12.7, 5, 5),
        ("A0", "A1", 10.0, 2, 2),
    ],
)
def test_butted_page_counts(
    drawing: str, paper: str, margin: float, rows: int, columns: int
) -> None:
    """ceil(W / w) × ceil(H / h) with w × h between the margins; A0 on A4 is 25 pages, not 16."""
    sheet, page = parse_paper(drawing), parse_paper(paper)
    grid = tiles(Box(Vec(0, 0), Vec(sheet.width, sheet.height)), page, margin, 0.0)
    assert (grid.rows, grid.columns) == (rows, columns)
    w, h = page.width - 2 * margin, page.height - 2 * margin
    assert (rows, columns) == (math.ceil(sheet.height / h), math.ceil(sheet.width / w))


def test_counts_with_an_overlap() -> None:
    """Never more than ceil(W / (w - overlap)), at most one fewer, and one fewer still would not do.

    The usual reckoning asks for a last page even where the page before shows all of it.
    """
    dice = random.Random(12)
    for _ in range(300):
        wide, tall = dice.uniform(20, 3000), dice.uniform(20, 2000)
        overlap = dice.choice((0.0, 5.0, 10.0, 15.0))
        grid = tiles(Box(Vec(7, -3), Vec(7 + wide, -3 + tall)), A4, 10.0, overlap)
        for count, side, tile in (
            (grid.columns, wide, grid.tile_width),
            (grid.rows, tall, grid.tile_height),
        ):
            usual = math.ceil(side / (tile - overlap))
            assert usual - 1 <= count <= usual
            assert count * tile - (count - 1) * overlap >= side - 1e-6
            assert count == 1 or (count - 1) * tile - (count - 2) * overlap < side


def test_a_grid_covers_its_box() -> None:
    """The tiles reach over the box on every side, and neighbours share exactly the overlap."""
    low, high = Vec(-40, 15), Vec(900, 1000)
    grid = tiles(Box(low, high), A4, 12.0, 5.0)
    first, last = grid.tile(0, 0), grid.tile(grid.rows - 1, grid.columns - 1)
    assert first.low.x <= low.x
    assert first.high.y >= high.y
    assert last.high.x >= high.x
    assert last.low.y <= low.y
    right, below = grid.tile(0, 1), grid.tile(1, 0)
    assert first.high.x - right.low.x == pytest.approx(5.0)
    assert below.high.y - first.low.y == pytest.approx(5.0)


def test_names_are_as_on_a_map() -> None:
    """Row letters from the top, column numbers from the left; AA follows Z."""
    grid = tiles(Box(Vec(0, 0), Vec(100, 8000)), A4, 10.0, 0.0)
    assert [grid.tile(r, 0).name for r in (0, 1, 25, 26, 27)] == ["A1", "B1", "Z1", "AA1", "AB1"]
    assert grid.tile(1, 2).name == "B3"
    assert grid.tile(1, 0).high.y < grid.tile(0, 0).high.y


def l_shape() -> tuple[tuple[float, float], ...]:
    return ((0, 0), (900, 0), (900, 120), (120, 120), (120, 1100), (0, 1100))


def test_empty_pages_are_left_out() -> None:
    """Of an L only the pages along its two arms are printed; the box around it would take 20."""
    points = l_shape()
    picture = Picture(items=(cut(polyline((*points, points[0]))),))
    grid = tiles(Box(Vec(0, 0), Vec(900, 1100)), A4, 10.0, 0.0)
    assert grid.rows * grid.columns == 20
    shape = Polygon(points)
    expected = [t.name for t in grid.tiles() if box(*t.low, *t.high).intersects(shape)]
    assert names(picture, grid) == expected
    assert len(expected) == 8


def test_against_shapely_with_overlap() -> None:
    """For odd shapes the printed pages are those whose own part meets the shape by shapely."""
    dice = random.Random(5)
    for _ in range(20):
        turn = dice.uniform(0, 360)
        points = [
            (
                dice.uniform(250, 600) * math.cos(math.radians(turn + a)),
                dice.uniform(250, 600) * math.sin(math.radians(turn + a)),
            )
            for a in range(0, 360, 40)
        ]
        shape = Polygon(points)
        if not shape.is_valid:
            continue
        picture = Picture(items=(cut(polyline((*points, points[0]))),))
        grid = tiles(picture.bounds(), A4, 10.0, dice.choice((0.0, 8.0)))
        boxes = {t.name: box(*grid.own(t)[0], *grid.own(t)[1]) for t in grid.tiles()}
        assert names(picture, grid) == [n for n, b in boxes.items() if b.intersects(shape)]


def test_a_page_inside_a_piece_is_printed() -> None:
    """No line crosses it, but without its paper the joined pattern would have a hole."""
    picture = Picture(items=(cut(ring(0, 0, 900, 1200)),))
    grid = tiles(picture.bounds(), A4, 10.0, 0.0)
    assert len(carrying(picture, grid)) == grid.rows * grid.columns == 25
    lines = Picture(items=(Stroke(path=ring(0, 0, 900, 1200), role=DrawnRole.STITCH),))
    assert len(carrying(lines, grid)) == 16


def test_a_page_inside_a_hole_is_left_out() -> None:
    """A filled area with a hole has no paper in the hole."""
    area = Fill(path=ring(0, 0, 900, 1200), holes=(ring(20, 20, 880, 1180),), role=DrawnRole.PIECE)
    picture = Picture(items=(area,))
    grid = tiles(picture.bounds(), A4, 10.0, 0.0)
    assert len(carrying(picture, grid)) == 16


def test_a_line_counts_where_it_runs() -> None:
    """A slanting line and an arc have large boxes, but cross few pages."""
    slant = Picture(items=(Stroke(path=polyline(((0, 0), (1800, 2600))), role=DrawnRole.GRAIN),))
    grid = tiles(slant.bounds(), A4, 10.0, 0.0)
    assert len(carrying(slant, grid)) < 0.25 * grid.rows * grid.columns
    arc = Path((quarter_arc(Vec(0, 0), 1500, 0),))
    curve = Picture(items=(Stroke(path=arc, role=DrawnRole.STITCH),))
    grid = tiles(curve.bounds(), A4, 10.0, 0.0)
    assert "A1" in names(curve, grid)
    corner = grid.tile(grid.rows - 1, 0).name
    assert corner not in names(curve, grid)


def test_what_the_neighbour_shows_already_needs_no_page() -> None:
    """Something in the shared strip alone is on the page before it."""
    grid = tiles(Box(Vec(0, 0), Vec(380, 200)), A4, 10.0, 10.0)
    assert grid.columns > 1
    second = grid.tile(0, 1)
    x = second.low.x + 5.0
    picture = Picture(items=(Stroke(path=polyline(((x, 50), (x, 100))), role=DrawnRole.CUT),))
    assert names(picture, grid) == ["A1"]


def test_words_count_too() -> None:
    """Words alone on a page are not lost."""
    picture = Picture(items=(cut(ring(0, 0, 50, 50)), Text(words="cut 2", at=Vec(700, 30), size=8)))
    grid = tiles(picture.bounds(), A4, 10.0, 0.0)
    assert len(carrying(picture, grid)) == 2


def test_the_grid_slides_to_save_pages() -> None:
    """Two narrow pieces that straddle the middle grid's edges do not when it is slid."""
    picture = Picture(items=(cut(ring(0, 0, 100, 150)), cut(ring(460, 0, 560, 150))))
    middle = tiles(picture.bounds(), A4, 10.0, 0.0)
    slid = thrifty_tiles(picture, A4, 10.0, 0.0)
    assert len(carrying(picture, slid)) <= len(carrying(picture, middle))
    assert len(carrying(picture, slid)) == 2


def test_a_piece_is_not_split_without_need() -> None:
    """Three pieces on two sheets: the grid is slid so that the middle one is on one of them."""
    pieces = tuple(cut(ring(x, 0, x + 300, 600)) for x in (0, 420, 840))
    picture = Picture(items=pieces)
    grid = thrifty_tiles(picture, parse_paper("A0"), 12.0, 5.0)
    shown = carrying(picture, grid)
    assert len(shown) == 2
    for piece in pieces:
        on = [t for t in shown if t in carrying(Picture(items=(piece,)), grid)]
        assert len(on) == 1


def test_every_point_is_on_a_printed_page() -> None:
    """Whatever the paper and the overlap, each point of each outline is on some printed page."""
    arc = Path((quarter_arc(Vec(100, -50), 620, 20), quarter_arc(Vec(100, -50), 620, 110)))
    picture = Picture(items=(Stroke(path=arc, role=DrawnRole.STITCH), cut(ring(0, 0, 333, 444))))
    for name, overlap in itertools.product(("A4", "Letter", "A3 landscape"), (0.0, 5.0, 12.0)):
        grid = thrifty_tiles(picture, parse_paper(name), 12.0, overlap)
        shown = carrying(picture, grid)
        for at in range(0, int(arc.length), 7):
            p = arc.point_at(at)
            assert any(t.low.x <= p.x <= t.high.x and t.low.y <= p.y <= t.high.y for t in shown), (
                name,
                overlap,
                p,
            )


@pytest.mark.parametrize(
    ("paper", "margin", "overlap", "said"),
    [
        ("A4", 5.0, 5.0, "margin of 5 mm is too small"),
        ("A5", 20.0, 5.0, "test square"),
        ("A4", 10.0, -1.0, "cannot share -1 mm"),
        ("A4", 10.0, 100.0, "cannot share 100 mm"),
    ],
)
def test_impossible_pages_are_refused(paper: str, margin: float, overlap: float, said: str) -> None:
    """Margins that printers lose, paper too small for the square, overlaps that leave nothing."""
    with pytest.raises(BadInput) as caught:
        tiles(Box(Vec(0, 0), Vec(100, 100)), parse_paper(paper), margin, overlap)
    assert said in str(caught.value)


def test_a_drawing_in_the_wrong_unit_is_refused() -> None:
    """Hundreds of metres of paper are a slip; the sentence says how many pages it would take."""
    with pytest.raises(CannotDo) as caught:
        tiles(Box(Vec(0, 0), Vec(25400, 25400)), A4, 10.0, 0.0)
    assert "it would take" in str(caught.value)


def test_a_roll_makes_one_row() -> None:
    """On a roll the drawing runs on; only its width makes columns."""
    roll = Paper(name="roll", width=914.0, height=math.inf)
    grid = tiles(Box(Vec(0, 0), Vec(1700, 3000)), roll, 10.0, 5.0)
    assert (grid.rows, grid.columns) == (1, 2)
    assert grid.paper.height == pytest.approx(3020.0)
