"""What placing rules ask is seen in the lay they lead to, looked at from outside.

Source: the JSON of the lay, the drawn pieces and the words of the file format, with numpy and
shapely; nothing of `rules` or `lay` reckons here. Numbers: trade practice as said in each test.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString, Point

from clothwright.errors import BadInput
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.figure_centred import FigureCentred
from clothwright.rules.kinds.figure_whole import FigureWhole
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.meets_dart import MeetsDart
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.workroom.searching.laying import lay_plan
from tests.outfits import OUTFITS
from tests.outfits.compared import looked_at, told_of
from tests.outfits.drawn import stitching
from tests.outfits.painted import places_of
from tests.outfits.placing import scattered
from tests.outfits.seen import Seen
from tests.outfits.sewn import Sewn, drawn, on_cloth


def laid(outfit: str, *rules: PlacingRule, plan: str = "") -> Laid:
    """An outfit laid at first sight by a plan of its own, or by these rules."""
    book = OUTFITS[outfit]()
    if rules:
        book = replace(book, plans=(Plan(name="asked", rules=rules),), chosen_plan="")
    found = lay_plan(book, plan or book.plans[0].name, seconds=60.0, rounds=0)
    assert not found.lay.unplaced
    return found


def seams(found: Laid) -> dict[str, tuple[Sewn, Seen]]:
    """Every seam on the drawn half of the body, by its name."""
    return {j.seam.name: (j, look) for j, _, look in looked_at(found) if j.half == 0}


def test_chevrons_on_the_bias_meet_along_straight_centres() -> None:
    """45 degrees each way from a straight grain: mirrored all along, left and right."""
    for join, _, look in looked_at(laid("bias skirt", plan="chevrons")):
        if join.seam.name.startswith("centre"):
            assert set(look.kind) == {"mirrored"}
            assert look.crossing == pytest.approx(0.0, abs=0.05)
        else:
            assert look.kind[0] == "mirrored"
            assert look.share("mirrored") < 0.2


def test_a_chevron_of_unequal_angles_is_said_to_be_out_before_it_is_laid() -> None:
    """Sides at 45 + atan(130/600) and 45 + atan(100/610.2): five stripes of 36 mm along each."""
    book = OUTFITS["bias skirt"]()
    found = laid("bias skirt", plan="chevrons")
    front, back = (book.bought.piece(n).edge("side").path for n in ("skirt front", "skirt back"))
    crossed = [
        5 * 36.0 / math.sin(math.pi / 4 + math.atan2(abs(d.x), d.y))
        for d in (front.end - front.start, back.end - back.start)
    ]
    told = [n for words in found.compiled.foreseen for n in words if isinstance(n, float)]
    assert told == [pytest.approx(abs(crossed[0] - crossed[1]), abs=0.05)]


@pytest.mark.parametrize("grain", ["along", "bias"])
@pytest.mark.parametrize("way", ["along", "across"])
def test_a_mirrored_pair_mirrors_on_the_whole_line_that_closes(way: str, grain: str) -> None:
    """On a check that mirrors one way only: seen at every place, on every axis of the print.

    It asks one half end for end, or leaning the other way; one point alike would not show it.
    """
    book = OUTFITS["checked shirt"]()
    design = book.cloths[0].print
    uneven = replace(design, **{f"axes_{'across' if way == 'along' else 'along'}": ()})
    rules = (
        Mirrored(piece="front", point="button 1", way=way),
        OnGrain(piece="front", grain=grain),
    )
    cloths = (replace(book.cloths[0], print=uneven),)
    alone = Pattern(pieces=(book.bought.piece("front"),))
    plans = (Plan(name="asked", rules=rules),)
    book = replace(book, bought=alone, cloths=cloths, plans=plans, chosen_plan="")
    found = lay_plan(book, "asked", seconds=60.0, rounds=0)
    [look] = [look for join, _, look in looked_at(found) if join.seam.name == "centre front"]
    assert set(look.kind) == {"mirrored"}
    assert look.crossing == pytest.approx(0.0, abs=0.05)


def test_uprights_of_an_even_check_meet_at_the_shoulder_with_all_tops_one_way() -> None:
    """Front and back are each other's mirror image there; at the neck they meet within 0.1 mm.

    On a check that is not even they are turned too far, and the rule is refused.
    """
    rule = Meets(
        piece_a="front",
        point_a="neck point",
        piece_b="back",
        point_b="neck point",
        match="upright",
    )
    book = OUTFITS["checked shirt"]()
    body = tuple(p for p in book.bought.pieces if p.name != "sleeve")
    seams_ = tuple(s for s in book.bought.seams if s.name in ("side", "shoulder"))
    plans = (Plan(name="asked", rules=(rule,)),)
    book = replace(book, bought=Pattern(pieces=body, seams=seams_), plans=plans, chosen_plan="")
    found = lay_plan(book, "asked", seconds=60.0, rounds=0)
    assert len({p["turn_deg"] for p in told_of(found)["placements"]}) == 1
    _, look = seams(found)["shoulder"]
    assert np.nanmin(look.side) < 0.1
    uneven = replace(book.cloths[0], print=replace(book.cloths[0].print, axes_across=()))
    with pytest.raises(BadInput, match="would be turned by"):
        lay_plan(replace(book, cloths=(uneven,)), "asked", seconds=60.0, rounds=0)


@pytest.mark.parametrize("side", ["below", "above"])
def test_a_side_with_a_dart_meets_below_it_or_above_by_choice(side: str) -> None:
    """On that side of the dart it is level within 2 mm; the other is out by what the dart takes."""
    rule = MeetsDart(piece="front", point="bust dart point", side=side)
    join, look = seams(laid("brick blouse", rule))["side"]
    [(_, at)] = join.a.darts
    near = np.abs(look.at - at) < 20.0
    low, high = near & (look.at < at - 1.0), near & (look.at > at + 1.0)
    held, free = (low, high) if side == "below" else (high, low)
    assert np.nanmax(look.height[held]) < 2.0
    assert np.nanmin(look.height[free]) > 5.0


def test_a_figure_is_centred_on_the_point_it_is_asked_for() -> None:
    """One of all its copies in half-drop has its middle on the line up through the point."""
    rule = FigureCentred(piece="back", point="centre neck", figure="peony", match="upright")
    found = laid("large figure", rule)
    piece, cloth = found.pattern.piece("back"), found.compiled.cloths[0]
    placement = next(p for p in told_of(found)["placements"] if p["piece"] == "back")
    [[x, y]], up = on_cloth(piece, np.array([tuple(piece.point("centre neck"))]), placement, False)
    assert abs(up[0]) == pytest.approx(1.0)
    figure = cloth.print.figures[0]
    places = places_of((figure.x, figure.y), cloth, (x - 700.0, 0.0), (x + 700.0, cloth.width))
    assert min(abs(at - y) for _, at in places) < 0.1


def nearest_to_darts(found: Laid) -> float:
    """How near the middle of a copy of the figure comes to a leg of the front's darts, mm."""
    piece, cloth = found.pattern.piece("front"), found.compiled.cloths[0]
    placement = next(p for p in told_of(found)["placements"] if p["piece"] == "front")
    figure, (x0, y0, x1, y1) = cloth.print.figures[0], stitching(piece, placement).bounds
    places = places_of((figure.x, figure.y), cloth, (x0, y0), (x1, y1))
    edge = drawn(piece, "side")
    gross = np.r_[0.0, np.cumsum(np.hypot(*np.diff(edge, axis=0).T))]
    [dart] = piece.darts
    legs = [[np.interp(at, gross, edge[:, k]) for k in (0, 1)] for at in (dart.a, dart.b)]
    line = np.array([legs[0], tuple(dart.point), legs[1]])
    cuts = [LineString(on_cloth(piece, line, placement, twin)[0]) for twin in (False, True)]
    return min(cut.distance(Point(p)) for cut in cuts for p in places)


def test_a_figure_that_is_to_be_whole_is_cut_by_no_dart() -> None:
    """No copy of it on the front touches a leg of a dart, on either side of the fold.

    Laid by chance, one is cut.
    """
    rule = FigureWhole(piece="front", figure="peony", lines="inside")
    assert nearest_to_darts(laid("large figure", rule)) >= 100.0 - 0.1
    book = OUTFITS["large figure"]()
    assert min(nearest_to_darts(scattered(book, seed)) for seed in range(4)) < 90.0


@pytest.mark.parametrize("name", ["two borders", "large figure", "one-way vest"])
def test_no_piece_lies_against_its_print_or_on_a_border_unasked(name: str) -> None:
    """Tops within 45 degrees of the ground's up and of the up of the border they lie on.

    On the border lie the pieces that a rule puts there, and no other.
    """
    book = OUTFITS[name]()
    for plan in book.plans:
        found = laid(name, plan=plan.name)
        asked = {r.piece for r in plan.rules if type(r).__name__ == "OnBorder"}  # type: ignore[attr-defined]
        for placement in told_of(found)["placements"]:
            cloth = found.compiled.cloth(placement["cloth"])
            ups = [{"end": 0.0, "start": 180.0}.get(cloth.print.up)]
            ys = [y for _, y in placement["outline"]]
            for border in cloth.print.borders:
                low = border.base if border.side == "lower" else cloth.width - border.base
                low -= 0.0 if border.side == "lower" else border.height
                if min(ys) < low + border.height - 0.01 and max(ys) > low + 0.01:
                    assert placement["piece"] in asked
                    ups.append(90.0 if border.side == "lower" else 270.0)
            for up in (u for u in ups if u is not None):
                assert abs((placement["turn_deg"] - up + 180.0) % 360.0 - 180.0) <= 45.0
