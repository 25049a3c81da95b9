"""A piece laid over its drawing: every planted fault is found in its place, and none on clean ones.

The suite takes one corner a piece, chosen by seed; AS_READ_ALL=1 takes them all.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from scipy.spatial.distance import cdist

from clothwright.demo.workbooks import DEMOS
from clothwright.geometry.path import Path, ring_path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.as_read import APART_MM, compared
from clothwright.intake.candidates import see
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.edges import CORNER_DEG, corner_starts
from clothwright.intake.typed.file import typed_in
from clothwright.intake.waiting.at_once import NOTHING, waiting_at_once
from clothwright.intake.waiting.pictures import preview
from clothwright.intake.waiting.seen import Outline, drawn_look, typed_look
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece, Role
from clothwright.picture.picture import DrawnRole
from clothwright.units import Unit
from tests.intake.proposing import typed_pieces

PIECES = [(d.name, p) for d in DEMOS for p in d.make().bought.pieces]
SIDE, MIDDLE, RUN, FREE = 8.0, 6.0, 10.0, 25.0
"""mm: a bevel takes so much off each side of a corner; a cut-out so much; so much of both its edges
runs to another corner that is moved, and so far is the next corner at least."""
Planted = tuple[Path, tuple[Vec, ...]]
"""The line with the fault, and the places that are right ones for it."""


def cut(line: Path, k: int, off: float) -> Path:
    """Return the line from behind corner k all round to before it, so much (mm) taken off each."""
    turned = Path((*line.segments[k:], *line.segments[:k]))
    return turned.between(off, turned.length - off)


def closed(line: Path, *points: Vec) -> Path:
    """Return an open line closed again by straight ones through these points."""
    way = (line.end, *points, line.start)
    return Path((*line.segments, *(Line(a, b) for a, b in pairwise(way))))


def bevel(line: Path, k: int) -> Planted:
    """The corner is cut off straight."""
    return closed(cut(line, k, SIDE)), (line.segments[k].start,)


def cut_out(line: Path, k: int) -> Planted:
    """The corner is cut anew, a small piece taken out of it; either corner is the place."""
    at, open_ = line.segments[k].start, cut(line, k, MIDDLE)
    inner = open_.end + (open_.start - at)
    return closed(open_, inner), (at, inner)


def moved(line: Path, k: int) -> Planted:
    """The corner is drawn 3 mm farther out, its neighbours run on to it."""
    at, open_ = line.segments[k].start, cut(line, k, RUN)
    out = at + (at - (open_.start + open_.end) / 2).unit * 3.0
    return closed(open_, out), (out, at)


def stub(line: Path, k: int) -> Planted:
    """A stub 1.5 mm long stands on the middle of the longest part, whatever the corner."""
    k = max(range(len(line.segments)), key=lambda i: line.segments[i].length)
    turned = Path((*line.segments[k + 1 :], *line.segments[: k + 1]))
    at = turned.length - line.segments[k].length / 2
    foot, out = turned.point_at(at), -turned.tangent_at(at).perp
    a, b = turned.between(0.0, at - 0.2), turned.between(at + 0.2, turned.length)
    tip = foot + out * 1.5
    return Path((*a.segments, Line(a.end, tip), Line(tip, b.start), *b.segments)), (tip,)


FAULTS: tuple[Callable[[Path, int], Planted], ...] = (bevel, cut_out, moved, stub)


def corners(line: Path) -> list[int]:
    """Return the corners (numbers of the segments that begin there) with room round them."""
    starts = corner_starts(line, CORNER_DEG)
    at = [sum(s.length for s in line.segments[:k]) for k in starts]
    gaps = [b - a for a, b in pairwise((*at, at[0] + line.length))]
    return [k for n, k in enumerate(starts) if min(gaps[n - 1], gaps[n]) > FREE]


def chosen(line: Path, seed: str) -> list[int]:
    found = corners(line)
    return found if os.environ.get("AS_READ_ALL") else [random.Random(seed).choice(found)]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f.__name__)
@pytest.mark.parametrize(("demo", "piece"), PIECES, ids=lambda x: getattr(x, "name", x))
def test_a_planted_fault_is_found_in_its_place(demo: str, piece: Piece, fault) -> None:
    """One place, within 1 mm of the fault, whichever of the two lines has it."""
    clean = cutting_line(piece).outline
    for k in chosen(clean, f"{demo} {piece.name} {fault.__name__}"):
        faulty, places = fault(clean, k)
        for made, drawn in ((clean, faulty), (faulty, clean)):
            found, mostly = compared(made, drawn)
            assert not mostly
            assert len(found) == 1, f"corner {k}: {found}"
            assert min(found[0].at.distance(p) for p in places) < 1.0
            assert APART_MM < found[0].away <= 9.0


@pytest.mark.parametrize(("demo", "piece"), PIECES, ids=lambda x: getattr(x, "name", x))
def test_nothing_is_found_on_clean_lines(demo: str, piece: Piece) -> None:
    """Neither where the line is the same, nor where it is divided otherwise and goes round anew."""
    del demo
    clean = cutting_line(piece).outline
    n = len(clean.segments) // 2
    split = [half for s in (*clean.segments[n:], *clean.segments[:n]) for half in s.split(0.3)]
    assert compared(clean, clean).places == ()
    assert compared(Path(tuple(split)), clean).places == ()


def test_the_distance_is_that_of_points_laid_densely() -> None:
    """Against scipy's distances of all pairs of points, 0.02 mm apart: within 0.02 mm."""
    clean = cutting_line(PIECES[0][1]).outline
    for fault, k in zip(FAULTS, corners(clean), strict=False):
        faulty, (place, *_) = fault(clean, k)
        near = [
            np.array([p for p in dense(line) if p.distance(place) < 25.0])
            for line in (clean, faulty)
        ]
        inner = [np.array([p for p in n if Vec(*p).distance(place) < 12.0]) for n in near]
        want = max(
            cdist(inner[0], near[1]).min(axis=1).max(), cdist(inner[1], near[0]).min(axis=1).max()
        )
        assert compared(clean, faulty).places[0].away == pytest.approx(want, abs=0.02)


def dense(line: Path) -> list[Vec]:
    out = []
    for a, b in pairwise(line.flatten(0.005)):
        steps = max(1, int(a.distance(b) / 0.02))
        out += [a.lerp(b, k / steps) for k in range(steps)]
    return out


# --- through the whole of adding -----------------------------------------------------------------


def added(*lines: Path, unit: Unit = Unit.inch, **answers: str | tuple[str, ...]) -> Outline:
    """Return what closed lines, the outermost first, become."""
    drawn = tuple(DrawnLine(path=p, closed=True) for p in lines)
    drawing = Drawing(name="x.svg", lines=drawn, scale_known=True)
    said = Answers(name="panel", **answers)
    one = waiting_at_once("x.svg", said)
    (outline,) = drawn_look(one, drawing, lambda _: see(drawing, "", unit), NOTHING, unit).outlines
    assert outline.piece is not None, outline.trouble
    return outline


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f.__name__)
@pytest.mark.parametrize("name", ["skirt front", "front facing", "lining back"])
def test_it_is_said_at_adding_with_its_place(name: str, fault) -> None:
    """A fault of the drawn cutting line: one sentence with the place, and a ring round it."""
    piece = next(p for _, p in PIECES if p.name == name)
    clean = cutting_line(piece).outline
    assert added(clean, piece.outline, allowance="drawn").apart == ()
    k = corners(clean)[0]
    faulty, places = fault(clean, k)
    outline = added(faulty, piece.outline, allowance="drawn")
    (one,) = outline.apart
    assert min(one.at.distance(p) for p in places) < 1.0
    assert one.words.startswith("its cutting line lies ")
    assert ("at the corner of" in one.words) == (fault is not stub)
    rings = [i for i in preview(outline).picture.items if i.role is DrawnRole.FAULT]
    (low, high) = rings[0].path.bounds()
    assert len(rings) == 1
    assert ((low + high) / 2).distance(one.at) < 0.01


def test_a_hem_corner_drawn_otherwise_is_cut_as_drawn() -> None:
    """An outline with its allowance: a squared hem corner stays, though hems usually fold back.

    The side leans, so that folding it back into the hem would move the corner by several mm.
    """
    leaning = ring_path([(0, 0), (300, 0), (260, 400), (0, 400)])
    outline = added(
        leaning, allowance="1/2 in, hem=2 in", corners="4", edges=("hem", "side", "waist", "front")
    )
    assert outline.apart == ()
    (away, _) = compared(cutting_line(outline.piece).outline, leaning)
    assert away == ()


def test_a_corner_drawn_folded_back_makes_a_hem() -> None:
    """A sleeve whose hem has no name: its corners are cut as drawn, and the hem is told."""
    sleeve = next(p for _, p in PIECES if p.name == "coat sleeve")
    clean = cutting_line(sleeve).outline
    outline = added(clean, sleeve.outline, allowance="drawn")
    assert outline.apart == ()
    assert {e.name: e.role for e in outline.piece.edges}["bottom"] is Role.HEM
    assert '"bottom" taken as a hem: its corner is drawn folded back' in outline.notes


TYPED = """piece tab
unit cm
allowance 1,5 cm included
A is the start
B is 20 cm down from A
C is 16 cm right of B
D is 16 cm right of A
P is 9 cm right of B, 8 cm down
Q is 8 cm right of B, 8,6 cm down
R is 7 cm right of B, 8 cm down
top from A to D, straight
side from D to C, straight
tip from C curve through P, Q and R to B
front from B to A, straight
grain up
cut 1 shell
"""


def test_typed_measurements_are_compared_too() -> None:
    """A measured cutting line that bends more tightly than its allowance is wide is not held.

    The stitching line then has a corner, and the cutting line made of it runs out to a point
    beyond the one measured, Q at (80, -286): said, with the place (demo data).
    """
    typed = typed_in(TYPED.encode(), "tab.txt", Unit.cm)
    (outline,) = typed_look(waiting_at_once("tab.txt", Answers()), typed, NOTHING, Unit.cm).outlines
    assert outline.piece is not None, outline.trouble
    (one,) = outline.apart
    assert one.at.x == pytest.approx(80.0, abs=1.0)
    assert one.away == pytest.approx(one.at.distance((80.0, -286.0)), abs=0.02)
    assert 'off the one that is drawn, on "tip", 12.1 cm from "front"' in one.words
    assert any(one.words in n for n in typed_pieces(TYPED.encode(), "t.txt", Answers(), Unit.cm)[1])


def test_a_line_inside_that_is_not_the_stitching_line_is_said_once() -> None:
    """A line runs 10 mm inside and the answer is 1 in: one sentence, not one a corner."""
    inner = ring_path([(10, 10), (290, 10), (290, 390), (10, 390)])
    outer = ring_path([(0, 0), (300, 0), (300, 400), (0, 400)])
    (one,) = added(outer, inner, unit=Unit.cm, allowance="2.54 cm").apart
    assert "its stitching line runs elsewhere than the one that is drawn" in one.words
    assert added(outer, inner, unit=Unit.cm, allowance="1 cm").apart == ()
