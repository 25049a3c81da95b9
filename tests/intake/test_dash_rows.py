"""Dashes that are drawn one by one as short lines are the dashed line they make.

The outside is shapely, which cuts the dashes (`substring`) out of the line that has to come back,
and ezdxf, which writes one of the files. Cost: about four seconds in all.
"""

from __future__ import annotations

import io
from itertools import pairwise

import ezdxf
import numpy as np
import pytest
from shapely.geometry import LineString, Point
from shapely.ops import substring

from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing
from clothwright.intake.dxf import read_dxf
from clothwright.intake.waiting.at_once import drawn_draft
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Shape, Word, area, line
from tests.intake.test_painted_strokes import SKIRT, off

DASHES = {"10": (6.0, 3.0), "12": (2.0, 2.0), "14": ()}
STEP = {"10": 0.0, "12": 8.0, "14": 16.0}


def grown(shape, size: str):
    """The skirt in a size: all sizes begin in one corner."""
    k = 1 + STEP[size] / 240
    return [(60 + (x - 60) * k, 60 + (y - 60) * k) for x, y in shape]


def cut(points, dash: float, gap: float, how: str) -> list[Shape]:
    """A line as dashes, one after the other: "round" the corners, or "fitted" to each edge."""
    parts = [LineString(p) for p in (pairwise(points) if how == "fitted" else [points])]
    out = []
    for part in parts:
        count = max(1, round((part.length + gap) / (dash + gap)))
        share = part.length / (count * (dash + gap) - gap)
        step = (dash + gap) * share if how == "fitted" else dash + gap
        for at in np.arange(0.0, part.length - 1e-6, step):
            bit = substring(
                part, at, min(at + (dash * share if how == "fitted" else dash), part.length)
            )
            if how == "each line":
                out += [line(*pair) for pair in pairwise(bit.coords)]
            else:
                out.append(line(*bit.coords))
    return out


def nest(how: str, shape) -> Plain:
    """Three sizes with one pen, told apart by their dashes alone, and a legend."""
    shapes: list[Shape] = []
    words = [Word(text="Skirt front", at=(140, 250), size=9.0)]
    for n, (size, dashes) in enumerate(DASHES.items()):
        ring = [*grown(shape, size), grown(shape, size)[0]]
        y = 20.0 + 10 * n
        sample = [(320.0, y), (353.0, y)]
        words.append(Word(text=size, at=(358, y - 2)))
        shapes += cut(ring, *dashes, how) if dashes else [line(*ring)]
        shapes += cut(sample, *dashes, how) if dashes else [line(*sample)]
    return Plain(shapes=tuple(shapes), words=tuple(words))


def dxf(sheet: Plain) -> Drawing:
    """The sheet as DXF, by ezdxf: each line a polyline, all on one layer."""
    file = ezdxf.new("R2010", units=4)
    for shape in sheet.shapes:
        file.modelspace().add_lwpolyline(shape.rings[0])
    for word in sheet.words:
        file.modelspace().add_text(word.text, height=word.size).set_placement(word.at)
    out = io.StringIO()
    file.write(out)
    return read_dxf(out.getvalue().encode(), "d.dxf")


STRAIGHT = ((60.0, 60.0), (300.0, 60.0), (280.0, 300.0), (180.0, 280.0), (80.0, 450.0))


@pytest.mark.parametrize(
    ("way", "how", "shape"),
    [
        ("svg", "round", SKIRT),
        ("pdf", "each line", SKIRT),
        ("pdf", "fitted", STRAIGHT),
        ("dxf", "round", SKIRT),
    ],
)
def test_rows_of_short_lines_are_the_sizes(way: str, how: str, shape) -> None:
    """One pen for all, and the legend in dashes, too: each outline is in its size, in its place."""
    drawing = dxf(nest(how, shape)) if way == "dxf" else nest(how, shape).read(way)
    assert drawing.sizes == ("10", "12", "14")
    up = 500.0 if way == "svg" else 0.0
    for size in DASHES:
        (found,) = [x.path for x in drawing.lines if x.size == size]
        assert off(found, [(x, y - up) for x, y in grown(shape, size)]) < 0.1
    made = drawn_draft(drawing, Answers(allowance="none", size="12"), Unit.mm)
    assert [p.name for p in made.pieces] == ["Skirt front"]
    assert made.sizes is not None


NECK = [(120 + 60 * np.sin(a), 330 - 45 * np.cos(a)) for a in np.linspace(np.pi / 2, 0, 400)]
"""A quarter of an ellipse, bent least at a radius of 80 mm and most at one of 34."""
BODICE = [(120.0, 285.0), (120.0, 60.0), (320.0, 60.0), (320.0, 240.0), (180.0, 330.0), *NECK[1:]]


def chords(points, corners, dash: float, gap: float, each: int) -> list[Shape]:
    """A line as dashes whose ends, and so many points between, lie on it, straight in between."""
    whole = LineString(points)
    turns = [whole.project(Point(c)) for c in corners]
    out = []
    for at in np.arange(1.0, whole.length, dash + gap):
        end = min(at + dash, whole.length)
        ats = sorted({*np.linspace(at, end, each + 1), *(t for t in turns if at < t < end)})
        out.append(line(*(whole.interpolate(t).coords[0] for t in ats)))
    return out


@pytest.mark.parametrize(
    ("dash", "gap", "each"), [(7.0, 3.0, 1), (11.0, 4.0, 1), (4.0, 4.0, 1), (12.0, 4.0, 3)]
)
def test_a_curve_whose_dashes_are_chords_is_the_curve(dash: float, gap: float, each: int) -> None:
    """The line goes through the ends of the dashes, and as far outside their middles as it bends.

    The outside is the ellipse itself; chords of 11 mm lie up to 0.45 mm inside it.
    """
    sheet = Plain(shapes=tuple(chords(BODICE, BODICE[:5], dash, gap, each)))
    (found,) = sheet.read("pdf").lines
    assert off(found.path, BODICE) < 0.1
    assert len(found.path.segments) < 20


def short_lines(*ends: tuple[float, float, float, float]) -> list[Shape]:
    return [line((a, b), (c, d)) for a, b, c, d in ends]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(
    "lines",
    [
        short_lines(*((200, 100 + 40 * k, 200, 115 + 40 * k) for k in range(7))),
        short_lines(*((100 + 10 * k, 200, 100 + 10 * k, 206) for k in range(12))),
        short_lines(*((100, 100 + 9 * k, 100, 106 + 9 * k) for k in range(4))),
    ],
    ids=["buttonholes", "a ruler", "few"],
)
def test_short_lines_that_are_no_dashes_stay(way: str, lines: list[Shape]) -> None:
    """Buttonholes in a row, the marks of a ruler, a few lines with no row of their kind."""
    sheet = Plain(shapes=(line(*SKIRT, SKIRT[0]), *lines))
    assert len(sheet.read(way).lines) == 1 + len(lines)


def test_dashes_that_run_back_on_themselves_make_a_line() -> None:
    """A row that turns right round, whose dashes run in exactly opposite directions."""
    there = [(100.0 + 9 * k, 100.0, 106.0 + 9 * k, 100.0) for k in range(8)]
    back = [(168.0 - 9 * k, 101.0, 162.0 - 9 * k, 101.0) for k in range(8)]
    (found,) = Plain(shapes=tuple(short_lines(*there, *back))).read("pdf").lines
    low, high = found.path.bounds()
    assert (high.x - low.x, high.y - low.y) == pytest.approx((69, 1), abs=1.5)
    assert found.path.length == pytest.approx(2 * 70, abs=2)


def test_dashes_that_are_in_no_order_are_told_as_such() -> None:
    """What is not put together is not lost among single lines: it is said to be dashes."""
    around = cut([*SKIRT, SKIRT[0]], 6.0, 3.0, "round")
    mixed = [*around[::3], *around[1::3], *around[2::3]][::-1]
    sheet = Plain(shapes=(area((330, 40), (380, 40), (380, 480), (330, 480)), *mixed))
    made = drawn_draft(sheet.read("pdf"), Answers(allowance="none"), Unit.cm)
    told = "short lines, which may be the dashes of an outline, "
    assert any(told in note for note in made.notes), made.notes
