"""A lay drawn small: every piece with its name, and what hangs over the end of the cloth."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.small_lay import shown_small, small_lay
from clothwright.picture.picture import DrawnRole, Fill, Text
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit, parse_length
from clothwright.workroom.searching.laying import lay_plan


@pytest.fixture(scope="module")
def laid() -> Laid:
    """The first demo, laid for a moment."""
    return lay_plan(DEMOS[0].make(), seconds=60, rounds=1)


def test_pieces_names_and_what_hangs_over(laid: Laid) -> None:
    """Each piece is an area with its name in it; half the length leaves a part without cloth."""
    cloth = next(c for c in laid.compiled.cloths if c.length is not None)
    here = [p for p in laid.lay.placements if p.region == cloth.name]
    picture = small_lay(laid.compiled, laid.lay, cloth, 2000.0)
    pieces = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.PIECE]
    assert {i.group for i in pieces} == {p.shape for p in here}
    names = {i.words for i in picture.items if isinstance(i, Text)}
    assert names <= {laid.compiled.copy(p.shape).piece.name for p in here}
    assert len(names) >= 2
    assert not [i for i in picture.items if i.role is DrawnRole.FAULT]
    short = replace(cloth, length=laid.lay.used[cloth.name] / 2)
    over = small_lay(laid.compiled, laid.lay, short, 2000.0)
    area = next(i for i in over.items if isinstance(i, Fill) and i.role is DrawnRole.FAULT)
    low, high = area.path.bounds()
    assert (low.x, high.x) == (short.length, laid.lay.used[cloth.name])


def test_what_is_used_left_and_kept_free_is_the_whole_length(laid: Laid) -> None:
    """Her tape adds it up: used, left and the end that may not be used are the cloth's length."""
    cloth = next(c for c in laid.cloths if c.length is not None)
    words = shown_small(laid, cloth, Unit.inch, 2000.0).words
    used, rest = words.split(" used of ")
    whole, free = rest.removesuffix(" kept free").split(", the last ")
    told = [parse_length(w, unit=Unit.inch) for w in (used, free)]
    assert sum(told) + laid.left_over[cloth.name] == pytest.approx(
        parse_length(whole, unit=Unit.inch), abs=25.4 / 16
    )
