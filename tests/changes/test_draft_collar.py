"""Collars: held against plane geometry on a round neck, and figures of the trade.

Turn of cloth: half a turn of δ takes π·δ. A stand's front rises by r when (1 - cos θ)/θ = r/L; its
upper edge is shorter by θ·h. A uniform shirt's collar of 1 1/2 in covers a stand of 1 5/16 in.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.collars import DraftCollar
from clothwright.changes.draft_collar import CHANGE
from clothwright.checks import run_checks
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.companions import companions_of
from clothwright.pattern.measure import net_length
from clothwright.pattern.piece import Notch, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.test_draft_facing import cape
from tests.changes.test_draft_lining import outfit
from tests.specimens import INCH, bodice

NECK = ("back.neck", "front.neck")
COAT = ("coat back.neck", "coat front.neck")


def done(pattern, *edges, **more):
    return CHANGE.apply(pattern, DraftCollar(edges=edges, **more)).pattern


def round_neck(**more):
    """The cape's neck: half a ring of radius 80 from the front's fold to the back's open middle."""
    return done(cape(), "front.neck", "back.neck", **more)


def test_a_flat_collar_is_the_parallel_of_the_neck():
    """Half a ring, radius 80: 50 deep its outer edge is half a ring of 130."""
    collar = round_neck(depth=50.0, lap=0.0).piece("collar")
    outer = collar.edge("outer edge")
    assert outer.length == pytest.approx(math.pi * 130.0, abs=0.1)
    assert collar.edge("front end").length == pytest.approx(50.0, abs=0.05)
    assert collar.edge("middle").role is Role.FOLD


@pytest.mark.parametrize("lap", [10.0, 20.0])
def test_overlapped_at_the_shoulder_it_turns_less(lap):
    """The shoulder is 220 long: the neck turns by 2 asin(lap / 440) less, the outer edge, too."""
    collar = round_neck(depth=50.0, lap=lap).piece("collar")
    less = 2 * math.asin(lap / (2 * 220.0))
    neck = sum(collar.edge(n).length for n in ("front neck", "back neck"))
    assert neck == pytest.approx(math.pi * 80.0, abs=0.05)
    ends = collar.edge("middle").path, collar.edge("front end").path
    turned = abs(
        math.degrees(
            math.asin((ends[0].end - ends[0].start).unit.cross((ends[1].end - ends[1].start).unit))
        )
    )
    assert turned == pytest.approx(math.degrees(less), abs=0.05)


@pytest.mark.parametrize(("between", "turn"), [(0.4, 1.3), (0.8, 2.5), (1.0, 3.1), (2.0, 6.3)])
def test_the_turn_of_the_cloth(between, turn):
    """Half a turn takes π·δ (worked table): the under collar's outer edge lies inside by it."""
    assert math.pi * between == pytest.approx(turn, abs=0.06)
    pattern = round_neck(depth=60.0, lap=0.0, turn=math.pi * between)
    collar, under = pattern.piece("collar"), pattern.piece("under collar")
    outer = collar.edge("outer edge").path
    inside = under.edge("outer edge").path
    away = [outer.nearest(inside.point_at(inside.length * k / 10))[1] for k in range(1, 10)]
    assert away == pytest.approx([math.pi * between] * 9, abs=0.02)
    for name in ("front neck", "back neck"):
        assert under.edge(name) == collar.edge(name)
    assert under.edge("outer edge").length < outer.length


@pytest.mark.parametrize(("rise", "stand"), [(12.7, 31.75), (25.4, 40.0), (0.0, 30.0)])
def test_the_upper_edge_of_a_stand_is_shorter_by_its_height_times_the_angle(rise, stand):
    pattern = bodice()
    neck = sum(net_length(pattern.piece(n), "neck") for n in ("front", "back"))
    piece = done(pattern, *NECK, style="stand", rise=rise, stand=stand).piece("collar stand")
    low, top = piece.edge("neck"), piece.edge("collar edge")
    assert low.length == pytest.approx(neck, abs=0.01)
    heights = [piece.up.dot(p) for p in low.path.ends]
    assert abs(heights[1] - heights[0]) == pytest.approx(rise, abs=0.01)
    theta = (low.length - top.length) / stand
    assert (
        (1 - math.cos(theta)) / theta * neck == pytest.approx(rise, abs=0.05)
        if rise
        else theta == pytest.approx(0.0)
    )
    assert (piece.cuts[0].how, piece.cuts[0].count) == ("fold", 2)


def test_a_uniform_shirts_collar_covers_its_stand_and_not_the_other_way_round():
    sizes = {"style": "shirt", "depth": 1.5 * INCH, "stand": (1 + 5 / 16) * INCH}
    assert done(bodice(), *NECK, **sizes)
    with pytest.raises(CannotDo, match="would be seen"):
        done(bodice(), *NECK, **(sizes | {"depth": sizes["stand"], "stand": sizes["depth"]}))


def test_a_shirt_collar_is_as_long_as_the_stand_less_what_laps_over():
    pattern = done(bodice(), *NECK, style="shirt", front=18.0)
    stand, collar = pattern.piece("collar stand"), pattern.piece("collar")
    assert stand.edge("front top").length == pytest.approx(18.0)
    assert collar.edge("neck").length == pytest.approx(stand.edge("collar edge").length)
    front = collar.edge("front end")
    assert front.length == pytest.approx(math.hypot(25.4, 63.5))


@pytest.mark.parametrize("more", [{}, {"ends": "round"}, {"style": "stand"}, {"style": "shirt"}])
def test_nothing_is_found_on_a_drafted_collar(more):
    """On the demo's coat, which has no collar: seams, allowances, notches and grain agree."""
    pattern = outfit(without=("lining", "facing"))
    known = {(f.code, f.where) for f in run_checks(pattern)}
    new = done(pattern, *COAT, **more)
    assert [f.code for f in run_checks(new) if (f.code, f.where) not in known] == []


def test_it_goes_with_the_neck_from_birth():
    new = done(bodice(), *NECK, style="shirt")
    (stand,) = companions_of(new, "back")
    assert (stand.kind, stand.piece) == ("stand", "collar stand")
    assert {c.piece for c in companions_of(new, "collar stand")} == {"collar", "under collar"}


def test_it_opens_on_the_front_in_whichever_order_the_edges_are_named():
    """Edges that are ticked come in the order of the pieces; a piece that is named outranks it."""
    one, two = (done(bodice(), *edges).piece("collar") for edges in (NECK, NECK[::-1]))
    for edge in one.edges:
        assert two.edge(edge.name).length == pytest.approx(edge.length, abs=0.01)
    back = done(bodice(), *NECK, closes="back").piece("collar")
    ends = [(p.index("middle") - p.index("front end")) % len(p.edges) for p in (one, back)]
    assert ends[0] != ends[1]
    with pytest.raises(BadInput, match="to close on"):
        done(bodice(), "front.neck", closes="back")


def test_a_collar_goes_on_a_neck_that_is_faced():
    """As on the demo's coat with its facings: the collar lies between coat and facing."""
    pattern = outfit()
    new = done(pattern, *COAT)
    known = {(f.code, f.where) for f in run_checks(pattern)}
    assert [f.code for f in run_checks(new) if (f.code, f.where) not in known] == []
    with pytest.raises(CannotDo, match="already"):
        done(new, *COAT)


def buttoned(beyond: float):
    """The bodice, its front neck with a notch for the centre so far before the front edge."""
    p = bodice()
    piece = p.piece("front")
    neck = piece.edge("neck")
    opens = (
        neck.path.end
        if neck.path.start.is_near(piece.point("neck point"), 0.1)
        else neck.path.start
    )
    at = neck.length - beyond if opens is neck.path.end else beyond
    return p.with_piece(piece.with_edge(replace(neck, notches=(Notch(at=at, name="centre"),))))


@pytest.mark.parametrize("style", ["flat", "stand", "shirt"])
def test_a_collar_says_where_it_ends_before_a_button_stand(style):
    """A shirt collar ends at the centre and its stand goes on to the edge (common practice)."""
    p = buttoned(18.0)
    asked = DraftCollar(edges=NECK, style=style)
    out = CHANGE.apply(p, asked)
    said = say(out.said, Unit.cm)
    known = {(f.code, f.where) for f in run_checks(p)}
    new = [f.code for f in run_checks(out.pattern) if (f.code, f.where) not in known]
    assert new == []
    if style == "shirt":
        stand, collar = (out.pattern.piece(n) for n in ("collar stand", "collar"))
        assert stand.edge("front top").length == pytest.approx(18.0, abs=0.01)
        assert collar.edge("neck").length == pytest.approx(stand.edge("collar edge").length)
        assert "The collar ends at the centre, the stand runs on for 1.8 cm" in said
    if style == "flat":
        assert "lie over each other by 3.6 cm" in said
