"""What the packer is given where borders are kept off: a narrower cloth, reckoned by hand."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from clothwright.lay.comb import all_free, comb_of, packable, strip
from clothwright.lay.model import prepare
from clothwright.lay.place import lay_out
from clothwright.lay.problem import KeepOff, LayProblem, OnLine, Region, Shape

CLOTH = Region(name="c", width=1000.0, length=None, margin_lower=10.0, margin_upper=10.0)


def shape(name: str) -> Shape:
    ring = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0))
    return Shape(id=name, piece=name, copy=1, outline=ring, turns_deg=(0.0,), points={"p": (0, 0)})


def off(name: str, low: float, high: float, region: str = "c") -> KeepOff:
    return KeepOff(id=f"{name} {low}", shape=name, region=region, low=low, high=high)


def model(*rules: object):
    shapes = (shape("a"), shape("b"))
    return prepare(LayProblem(regions=(CLOTH,), shapes=shapes, rules=rules, gap=4.0))


@pytest.mark.parametrize(
    ("rules", "left"),
    [
        ((), (10.0, 990.0)),
        ((off("a", 20.0, 120.0),), (120.0, 990.0)),
        ((off("a", 20.0, 120.0), off("b", 900.0, 980.0)), (120.0, 900.0)),
        ((off("a", 500.0, 700.0), off("a", 400.0, 600.0)), (10.0, 400.0)),
    ],
)
def test_what_is_kept_off_narrows_the_cloth(rules, left) -> None:
    """The widest part beside the bands that any unbound shape keeps off; they stay packable."""
    made = model(*rules)
    assert strip(made) == left
    assert packable(made)
    assert all_free(made)


def test_bound_shapes_count_as_far_as_they_reach_in() -> None:
    """A shape on a line at 60 reaches to 260: of its 200 mm the comb holds those above 120."""
    line = OnLine(id="on", shape="b", points=("p",), axis="across", at=60.0)
    made = model(off("a", 20.0, 120.0), line)
    assert not all_free(made)
    ring = comb_of(made, lay_out(made, (1, 0), ()))
    assert ring is not None
    assert min(y for _, y in ring) == pytest.approx(120.0)
    assert Polygon(ring).area == pytest.approx(300.0 * 140.0, rel=0.01)
