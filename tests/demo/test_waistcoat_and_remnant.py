"""The checked waistcoat and the remnant: what they ask of the cloth can be had."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from clothwright.demo import DEMOS, checked_waistcoat, remnant
from clothwright.demo.body import WEARER
from clothwright.lay.judge import judge, residuals
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Severity
from clothwright.rules.compile import compile_lay
from clothwright.units import INCH
from clothwright.workbook import Workbook, replay

WAISTCOAT, REMNANT = checked_waistcoat(), remnant()


def laid(book: Workbook, plan: str, rounds: int) -> Lay:
    """A lay of a plan without a fault, by the judge."""
    compiled = compile_lay(
        replay(book).pattern, book.cloths, book.plan(plan), gap=book.settings.gap
    )
    lay = solve(compiled.problem, seconds=30.0, rounds=rounds)
    assert compiled.notes == ()
    assert lay.unplaced == {}
    assert [f for f in judge(compiled.problem, lay) if f.severity is Severity.FAULT] == []
    assert all(r <= 0.1 for r in residuals(compiled.problem, lay).values())
    return lay


def test_the_demos_are_named_once() -> None:
    """Names are what the command line asks for."""
    assert [d.name for d in DEMOS] == [
        "coat-and-skirt",
        "checked-waistcoat",
        "remnant",
        "three-sizes",
    ]
    assert all(d.title for d in DEMOS)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_a_demo_is_the_same_each_time(demo: object) -> None:
    """Made by code: no chance, no clock in it."""
    make = demo.make  # type: ignore[attr-defined]
    assert make() == make()
    assert "demo data" in make().notes.lower()


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_the_chosen_plan_is_one_of_the_plans(demo: object) -> None:
    """The workbook opens on a plan that it has."""
    book = demo.make()  # type: ignore[attr-defined]
    assert book.plan().name == book.chosen_plan


def test_the_waistcoat_has_the_ease_of_a_bodice() -> None:
    """At least 1 1/2 in at the bust (a university costume text), measured under the arm."""
    front, back = (WAISTCOAT.bought.piece(n) for n in ("front", "back"))
    half = front.point("underarm").x - back.point("underarm").x
    assert 1.5 * INCH <= 2 * half - WEARER.bust <= 4 * INCH


def test_the_check_is_even_both_ways() -> None:
    """Each axis of the figure lies on phase 0 or half a repeat away from it."""
    p = WAISTCOAT.cloth("check").print
    assert p.repeat_along
    assert p.repeat_across
    assert p.axes_along == (0.0, p.repeat_along / 2)
    assert p.axes_across == (0.0, p.repeat_across / 2)


def test_the_pocket_lies_on_its_place() -> None:
    """The place marked on the front is the pocket's stitching line, corner for corner."""
    front, pocket = WAISTCOAT.bought.piece("front"), WAISTCOAT.bought.piece("pocket")
    [place] = [m for m in front.marks if m.name == "pocket"]
    assert place.path is not None
    shift = front.point("pocket corner") - pocket.point("upper corner")
    assert [e.path.start + shift for e in pocket.edges] == list(place.path.flatten())[:-1]


def test_bars_meet_along_the_side_below_the_dart() -> None:
    """From the hem to the dart both sides climb alike, so that bars that meet once meet all along.

    At equal lengths from the hem both sides lie equally high, within the 1.5 mm of a good walk.
    """
    front = WAISTCOAT.bought.piece("front")
    back = WAISTCOAT.bought.piece("back").edge("side").path.reversed()
    side = front.edge("side").path
    for at in (0.0, 40.0, 80.0, front.dart("bust dart").a):
        assert side.point_at(at).y == pytest.approx(back.point_at(at).y, abs=1.5)


def test_matching_costs_cloth() -> None:
    """The matched plan can be laid with every rule met, and asks for more length than the free."""
    matched, free = laid(WAISTCOAT, "matched", 4), laid(WAISTCOAT, "as it falls", 12)
    assert matched.used["check"] > free.used["check"]


def test_the_skirt_comes_out_of_the_remnant_around_its_hole() -> None:
    """Every piece lies inside the torn outline and clear of hole and mark (by shapely)."""
    lay = laid(REMNANT, "pile up", 4)
    cloth = REMNANT.cloth("corduroy remnant")
    assert cloth.outline is not None
    whole = Polygon(cloth.outline).buffer(0.01)
    holes = [Polygon(f.ring).buffer(f.margin - 0.5) for f in cloth.flaws]
    pieces = [Polygon(p.outline) for p in lay.placements if p.region == cloth.name]
    assert len(pieces) == 4
    for piece in pieces:
        assert whole.contains(piece)
        assert not any(hole.intersects(piece) for hole in holes)


def test_the_remnant_lies_in_its_width_and_length() -> None:
    """The outline stays within the rectangle that width and length tell of."""
    cloth = REMNANT.cloth("corduroy remnant")
    assert cloth.outline is not None
    ring = Polygon(cloth.outline)
    assert ring.is_valid
    assert ring.bounds == (0.0, 0.0, cloth.length, cloth.width)
