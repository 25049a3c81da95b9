"""A lay as drawn: to scale, every piece, its number and its measures."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import Polygon

from clothwright.cloth.cloth import Flaw
from clothwright.drawing.lay import lay_picture
from clothwright.lay.solve import solve
from clothwright.picture.picture import DrawnRole, Fill, Stroke, Text
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from tests.lay.panels import bordered, skirt


@pytest.fixture(scope="module")
def laid():
    cloth = replace(
        bordered(), flaws=(Flaw(name="hole", ring=((900, 700), (950, 700), (950, 750))),)
    )
    plan = Plan(name="p", rules=(OnBorder(piece="front", edge="hem", border="b"),))
    compiled = compile_lay(skirt(), (cloth,), plan, gap=2.0)
    lay = solve(compiled.problem, seconds=30.0, rounds=3, seed=1)
    return compiled, lay


def test_every_piece_is_drawn_where_it_lies(laid):
    """Each cutting line on the picture is the placement's own outline, in mm."""
    compiled, lay = laid
    picture = lay_picture(compiled, lay, "c", Unit.cm)
    drawn = {
        i.group: i.path.segments[0].start
        for i in picture.items
        if isinstance(i, Stroke) and i.role is DrawnRole.CUT
    }
    assert drawn == {p.shape: p.outline[0] for p in lay.placements}


def test_numbers_names_and_turned_over(laid):
    """Pieces are numbered in laying order and the second of a pair says it is turned over."""
    compiled, lay = laid
    words = [
        i.words
        for i in lay_picture(compiled, lay, "c", Unit.cm).items
        if isinstance(i, Text) and i.role is DrawnRole.LABEL
    ]
    assert sorted(w.split()[0] for w in words) == ["1", "2", "3"]
    assert sum("(turned over)" in w for w in words) == 1


def test_border_flaw_and_length_used_are_there(laid):
    """The band, the hole and the figure for the length used are drawn."""
    compiled, lay = laid
    picture = lay_picture(compiled, lay, "c", Unit.cm)
    fills = {i.role for i in picture.items if isinstance(i, Fill)}
    assert {DrawnRole.CLOTH, DrawnRole.BORDER, DrawnRole.FLAW, DrawnRole.PIECE} <= fills
    assert any(isinstance(i, Text) and i.words.startswith("used ") for i in picture.items)


def test_without_positions_there_are_no_numbers(laid):
    """For a quick look the numbers and measures are left out."""
    compiled, lay = laid
    words = [
        i.words
        for i in lay_picture(compiled, lay, "c", Unit.cm, positions=False).items
        if isinstance(i, Text) and i.role is DrawnRole.LABEL
    ]
    assert sorted(words) == ["back 1", "back 2 (turned over)", "front"]


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_no_letter_is_too_small_to_be_read(laid, unit):
    """12 px at least, the lay shown 1366 px wide; names clear of the measures of their piece."""
    picture = lay_picture(*laid, "c", unit)
    low, high = picture.bounds()
    texts = [i for i in picture.items if isinstance(i, Text)]
    assert min(t.size for t in texts) * 1366 / (high.x - low.x) >= 12.0
    for name in (t for t in texts if t.role is DrawnRole.LABEL):
        for told in (t for t in texts if t.role is DrawnRole.MEASURE and t.group == name.group):
            a, b = (Polygon(box(t)) for t in (name, told))
            assert a.intersection(b).area == 0.0


def box(text):
    """The four corners of a text, its letters 0.5 of its size wide, 0.7 high."""
    turn = math.radians(text.angle_deg)
    along = np.array([math.cos(turn), math.sin(turn)]) * 0.5 * text.size * len(text.words)
    up = np.array([-math.sin(turn), math.cos(turn)]) * 0.7 * text.size
    start = np.array(text.at) - along * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    return [start, start + along, start + along + up, start + up]
