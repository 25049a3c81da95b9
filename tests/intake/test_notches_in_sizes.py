"""Notches of three nested sizes that are drawn with one pen, or through all sizes at once.

The places are those of the formulas that draw the outlines (demo data). Cost: about four seconds.
"""

from __future__ import annotations

import math

import pytest

from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.waiting.at_once import drawn_draft
from clothwright.pattern.piece import NotchKind
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Shape, Word, area, line

COLOURS = {"10": "#d00000", "12": "#00a000", "14": "#0000d0"}
LEVELS = (150.0, 330.0)


def side(n: int, y: float, step: float) -> float:
    """How far right the slanted side of the n-th size is at a height."""
    return 240 + step * n - 0.05 * y


def outline(n: int, step: float) -> list[tuple[float, float]]:
    return [(40, 40), (side(n, 40, step), 40), (side(n, 440, step), 440 + n), (40, 440 + n)]


def across(n: int, y: float, step: float, inside: float, outside: float, **look) -> Shape:
    """A stroke square to the side of the n-th size, so far inside and outside of it."""
    x, u = side(n, y, step), (1 / math.hypot(1, 0.05), 0.05 / math.hypot(1, 0.05))
    ends = ((x + d * u[0], y + d * u[1]) for d in (-inside, outside))
    return line(*ends, **look)


def strokes(how: str, step: float) -> list[Shape]:
    """The notches: one at the lower level, a double one at the upper."""
    out = []
    for y in (LEVELS[0], LEVELS[1], LEVELS[1] + 8):
        if how == "one through all":
            out.append(across(1, y, step, step + 5, step + 7, stroke="#d00000"))
            continue
        for n, own in enumerate(COLOURS.values()):
            pen = {"the first's": "#d00000", "the last's": "#0000d0", "its own": own}.get(
                how, "#000000"
            )
            reach = (6.0, 0.0) if "inside" in how else (4.0, 4.0)
            out.append(
                across(n, y + (2.0 * n if "inside" in how else 0.0), step, *reach, stroke=pen)
            )
    return out


def sheet(how: str, step: float) -> Plain:
    shapes, words = [], [Word(text="Skirt front", at=(90, 250), size=9.0)]
    for n, (size, colour) in enumerate(COLOURS.items()):
        shapes += [area(*outline(n, step), stroke=colour)]
        shapes += [line((320, 100 + 20 * n), (350, 100 + 20 * n), stroke=colour)]
        words.append(Word(text=size, at=(354, 98 + 20 * n)))
    return Plain(shapes=(*shapes, *strokes(how, step)), words=tuple(words))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("step", [3.0, 4.0, 12.0])
@pytest.mark.parametrize(
    "how", ["the first's", "the last's", "its own", "black, inside", "one through all"]
)
def test_each_size_has_its_notches(way: str, how: str, step: float) -> None:
    """A single and a double notch on the side of every size, each at its place."""
    drawing = sheet(how, step).read(way)
    made = drawn_draft(drawing, Answers(allowance="none", size="12"), Unit.mm)
    assert made.sizes is not None
    up = 500.0 if way == "svg" else 0.0
    for n, (piece,) in enumerate(made.sizes.pieces):
        found = {x.kind: e.path.point_at(x.at) for e in piece.edges for x in e.notches}
        assert sum(len(e.notches) for e in piece.edges) == 2
        assert not piece.marks
        slide = 2.0 * n if "inside" in how else 0.05 * step * (n - 1) if "through" in how else 0.0
        for kind, y in ((NotchKind.SINGLE, LEVELS[0]), (NotchKind.DOUBLE, LEVELS[1] + 4)):
            at = (side(n, y + slide, step), y + slide - up)
            assert found[kind].distance(Vec(*at)) < 0.3
