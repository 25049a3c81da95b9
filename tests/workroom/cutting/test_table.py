"""A piece tried on the table: what lies under it is known by its field, not by its sentence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.lay.by_hand import LaidOut, Wanted, try_place
from clothwright.lay.judge import judge
from clothwright.lay.lying import lie
from clothwright.lay.problem import KeepOff, LayProblem, Pinned, Region, Shape, Upright
from clothwright.lay.result import Lay
from clothwright.units import Unit

RING = ((0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0))
PLACES = {"cuff": (200.0, 300.0), "cuff and band": (0.0, 300.0), "collar": (0.0, 600.0)}


def on_table(*, pinned: str) -> LaidOut:
    """Three rectangles on one cloth, the first two edge to edge, one of them pinned."""
    shapes = tuple(Shape(id=n, piece=n, copy=1, outline=RING, turns_deg=(0.0,)) for n in PLACES)
    x, y = PLACES[pinned]
    pin = Pinned(id="pin", shape=pinned, region="wool", x=x, y=y, turn_deg=0.0, flipped=False)
    problem = LayProblem(
        regions=(Region(name="wool", width=1000.0, length=2000.0),), shapes=shapes, rules=(pin,)
    )
    places = {
        s.id: lie(s, region="wool", x=x, y=y, turn_deg=0.0, flipped=False)
        for s, (x, y) in zip(shapes, PLACES.values(), strict=True)
    }
    return LaidOut(problem=problem, places=places)


@pytest.mark.parametrize(("pinned", "may"), [("cuff and band", False), ("cuff", True)])
def test_a_pinned_piece_is_not_lain_over_whatever_it_is_called(pinned: str, may: bool) -> None:
    """60 mm over "cuff and band": no, where that is pinned; its name begins like "cuff"'s fault."""
    table = on_table(pinned=pinned)
    wanted = Wanted(shape="collar", x=0.0, y=340.0, turn_deg=0.0, flipped=False)
    tried = try_place(table, wanted, Unit.cm)
    assert tried.over == ("cuff and band",)
    assert tried.may_pin is may


def test_an_overlap_names_both_pieces_and_a_missed_rule_itself() -> None:
    """The judge's findings have what code needs as fields: the two shapes, the rule."""
    table = on_table(pinned="cuff and band")
    moved = lie(table.shapes["collar"], region="wool", x=0.0, y=340.0, turn_deg=0.0, flipped=False)
    off = lie(
        table.shapes["cuff and band"], region="wool", x=0.0, y=309.0, turn_deg=0.0, flipped=False
    )
    places = (table.places["cuff"], off, moved)
    found = judge(table.problem, Lay(placements=places, used={"wool": 400.0}, fits=True))
    (overlap,) = (f for f in found if f.code == "lay-overlap")
    assert {overlap.where.point, overlap.where.other} == {"collar", "cuff and band"}
    assert [f.where.rule for f in found if f.code == "lay-rule"] == ["pin"]


@pytest.mark.parametrize(
    ("turn", "y", "told"),
    [
        (0.0, 40.0, "collar runs into a border of wool by 6 cm"),
        (180.0, 700.0, "collar is laid against the print of wool, which has a top"),
        (0.0, 340.0, ""),
    ],
)
def test_a_piece_put_against_the_print_is_told_and_not_pinned(turn, y, told) -> None:
    """By hand it may lie anywhere; the judge says that it lies on a border, or upside down."""
    table = on_table(pinned="cuff")
    rules = (
        KeepOff(id="off", shape="collar", region="wool", low=0.0, high=100.0),
        Upright(id="up", shape="collar", region="wool", up_deg=0.0),
    )
    free = tuple(replace(s, turns_deg=(0.0, 180.0)) for s in table.problem.shapes)
    problem = replace(table.problem, rules=(*table.problem.rules, *rules), shapes=free)
    wanted = Wanted(shape="collar", x=500.0, y=y, turn_deg=turn, flipped=False)
    tried = try_place(LaidOut(problem=problem, places=table.places), wanted, Unit.cm)
    assert bool(tried.faults) == bool(told)
    assert all(told in fault for fault in tried.faults)
    assert tried.may_pin == (not told)
