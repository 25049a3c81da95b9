"""A lay drawn small: every piece with its name, and what hangs over the end of the cloth."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.small_lay import small_lay
from clothwright.picture.picture import DrawnRole, Fill, Text
from clothwright.workroom.searching.laying import lay_plan


def test_pieces_names_and_what_hangs_over() -> None:
    """Each piece is an area with its name in it; half the length leaves a part without cloth."""
    laid = lay_plan(DEMOS[0].make(), seconds=20, rounds=1)
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
