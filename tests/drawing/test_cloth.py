"""A cloth alone: what is drawn of it, and where."""

from __future__ import annotations

import pytest

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.drawing.cloth import cloth_picture, shown_length
from clothwright.picture.picture import DrawnRole, Fill, Picture, Stroke
from clothwright.units import Unit


def lines(picture: Picture, role: DrawnRole) -> list[tuple[float, float, float, float]]:
    """Return the boxes of every stroke of a role, rounded."""
    boxes = [i.path.bounds() for i in picture.items if isinstance(i, Stroke) and i.role is role]
    return [(round(a.x, 3), round(a.y, 3), round(b.x, 3), round(b.y, 3)) for a, b in boxes]


@pytest.mark.parametrize(("side", "base", "top"), [("lower", 40.0, 140.0), ("upper", 860.0, 760.0)])
def test_a_border_lies_along_its_selvedge(side: str, base: float, top: float) -> None:
    """Base line and height are counted from the border's own selvedge; its axes stay in it."""
    border = Border(name="vine", side=side, base=40.0, height=100.0, repeat=60.0)
    design = Print(borders=(border,), axes_along=(30.0,))
    picture = cloth_picture(Cloth(name="c", width=900.0, length=200.0, print=design), Unit.cm)
    heights = {box[1] for box in lines(picture, DrawnRole.BORDER) if box[1] == box[3]}
    foot = base + 0.06 * (top - base)
    assert heights == {base, top, foot}, "a border with an up has a second line at its foot"
    low, high = sorted((base, top))
    assert lines(picture, DrawnRole.LEVEL) == [(x, low, x, high) for x in (30.0, 90.0, 150.0)]


def test_flaws_and_figures_are_drawn_where_they_are() -> None:
    """A flaw has its own ring; a figure its circle."""
    flaw = Flaw(name="stain", ring=((10.0, 20.0), (50.0, 20.0), (50.0, 40.0)))
    design = Print(figures=(Figure(name="rose", x=100.0, y=300.0, radius=50.0),))
    cloth = Cloth(name="c", width=900.0, length=200.0, flaws=(flaw,), print=design)
    picture = cloth_picture(cloth, Unit.inch)
    assert lines(picture, DrawnRole.FLAW) == [(10.0, 20.0, 50.0, 40.0)]
    (rose,) = (i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.MOTIF)
    (x0, y0), (x1, y1) = rose.path.bounds()
    assert (x0, y0, x1, y1) == pytest.approx((50.0, 250.0, 150.0, 350.0), abs=0.3)
    assert any(isinstance(i, Fill) and i.role is DrawnRole.FLAW for i in picture.items)


def test_how_much_is_drawn() -> None:
    """All of a cloth in hand; of one to be bought a stretch in proportion to its width."""
    assert shown_length(Cloth(name="c", width=900.0, length=200.0)) == 200.0
    assert shown_length(Cloth(name="c", width=1000.0)) == 1600.0
    ring = ((0.0, 0.0), (700.0, 0.0), (650.0, 900.0))
    assert shown_length(Cloth(name="c", width=900.0, outline=ring)) == 700.0
