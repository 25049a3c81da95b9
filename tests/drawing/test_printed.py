"""A piece with the print on it: what lies inside the cutting line, and which way it is turned."""

from __future__ import annotations

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.drawing.printed import printed_piece
from clothwright.picture.picture import DrawnRole, Fill
from clothwright.workroom.searching.laying import lay_plan


def test_the_border_lies_at_the_hem_of_a_skirt_laid_on_it() -> None:
    """A plan that puts the skirt's hem on the border shows the band low on the piece as worn."""
    laid = lay_plan(coat_and_skirt(), "skirt only", seconds=60.0, rounds=1)
    skirts = [p for p in laid.lay.placements if p.shape.startswith("skirt front")]
    assert skirts
    for placement in skirts:
        picture = printed_piece(laid.compiled, placement)
        bands = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.BORDER]
        low, high = picture.bounds()
        assert len(bands) == 1
        top = bands[0].path.bounds()[1].y
        assert low.y < top < low.y + 0.5 * (high.y - low.y)
        motif = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.MOTIF]
        assert len(motif[0].holes) > 2
