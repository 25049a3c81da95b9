"""Darts as they are really drawn: legs that end on the edge, beside it, or not quite together."""

from __future__ import annotations

import math

import pytest

from clothwright.intake.answers import Answers
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, area, box, line
from tests.intake.proposing import propose

TOP = 450.0
SKIRT = Plain(shapes=(box(50, 50, 250, TOP - 50),))
"""A piece 250 wide and 400 high, its waist at the top."""


def read(way: str, *shapes, unit=Unit.mm):
    return propose(SKIRT.and_(*shapes).read(way), Answers(allowance="none"), unit=unit)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("off", [-1.2, 0.0, 0.003, 1.5, 2.6])
@pytest.mark.parametrize("legs", ["one line", "two lines", "a triangle"])
def test_legs_that_end_near_the_edge(way: str, off: float, legs: str) -> None:
    """Legs that end short of the edge, on it, or up to 2.6 mm outside: a dart to the edge."""
    y = TOP + off
    a, point, b = (140.0, y), (152.0, 340.0), (164.0, y)
    drawn = {
        "one line": [line(a, point, b)],
        "two lines": [line(a, point), line(b, point)],
        "a triangle": [area(a, point, b)],
    }[legs]
    draft = read(way, *drawn)
    (piece,) = draft.pieces
    (dart,) = piece.darts
    top = next(e for e in piece.edges if e.name == dart.edge)
    wide = 24.0 * 110.0 / (110.0 + off)
    assert dart.b - dart.a == pytest.approx(wide, abs=0.05)
    leg = top.path.point_at(dart.a).distance(dart.point)
    assert leg == pytest.approx(math.hypot(110.0, wide / 2), abs=0.05)
    assert piece.marks == ()
    (question,) = [q for q in draft.questions if q.id == "darts"]
    assert ("outside the edge" in question.words) == (off > 0.5)


@pytest.mark.parametrize("way", WAYS)
def test_legs_that_stop_a_little_apart(way: str) -> None:
    """Legs 1.6 mm apart at the point are run on until they meet, and it is said."""
    draft = read(way, line((140, TOP), (151.2, 348)), line((164, TOP), (152.8, 348)))
    (dart,) = draft.pieces[0].darts
    corner = draft.pieces[0].outline.bounds()[0]
    assert (dart.point - corner).y == pytest.approx(340.714 - 50, abs=0.05)
    (question,) = [q for q in draft.questions if q.id == "darts"]
    assert "1.6 mm apart at the point" in question.words


@pytest.mark.parametrize("way", WAYS)
def test_two_lines_close_together_are_no_dart(way: str) -> None:
    """A pleat's two lines, 3 mm apart from the edge down, meet in no point."""
    draft = read(way, line((140, TOP), (140, 350)), line((143, TOP), (143, 350)))
    assert draft.pieces[0].darts == ()
    assert len(draft.pieces[0].marks) == 2


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("unit", "long"), [(Unit.cm, "11 cm"), (Unit.inch, "4 3/8 in")])
def test_a_dart_that_lies_in_no_outline_is_told_with_its_place(
    way: str, unit: Unit, long: str
) -> None:
    """Legs drawn beside the piece: what they look like, how long, and where, in her unit."""
    beside = (
        line((330, 200), (340, 90)),
        line((350, 200), (340, 90)),
        line((330, 300), (370, 300)),
    )
    notes = read(way, *beside, unit=unit).notes
    (told,) = [n for n in notes if "in no outline" in n]
    assert told.startswith("left out, in no outline, 3 lines: ")
    assert "two lines that meet in a point like a dart, " + long in told
    assert "a straight line" in told
    assert "from the left and" in told
