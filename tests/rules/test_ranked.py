"""Laid plans are ranked by wishes in their order, by what is seen on the lay and not by intent.

Two rectangles a metre of cloth wide are laid by hand, so that every share can be reckoned: a front
of 200 by 400 mm and a back of as much, sewn at one side of 400 mm.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.lay.lying import lie, moved_points, used_on
from clothwright.lay.result import Lay
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import parse_edge
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.other_order import other_order
from clothwright.rules.weighing.ranked import Weighed, differences, verdict, weighed
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import panel

PATTERN = Pattern(
    pieces=(panel("front", 200.0, 400.0, "once"), panel("back", 200.0, 400.0, "once")),
    seams=(
        Seam(name="side", a=(parse_edge("front.right"),), b=(parse_edge("back.left reversed"),)),
    ),
)
CHECK = Print(
    repeat_along=50.0, repeat_across=40.0, axes_along=(0.0,), axes_across=(0.0,), look="check"
)
BAND = Print(
    borders=(Border(name="band", side="lower", base=20.0, height=80.0, repeat=30.0),),
    look="border",
)


def cloth(design: Print) -> Cloth:
    return Cloth(name="c", width=1000.0, length=2000.0, print=design)


def laid(name: str, design: Print, turn: float = 0.0, **at: tuple[float, float]) -> Laid:
    """Return a lay with the lower left corner of each piece's stitching line on a place.

    at: mm along and across, by the piece.
    """
    compiled = compile_lay(PATTERN, (cloth(design),), Plan(name=name))
    placed = []
    for shape in compiled.problem.shapes:
        [(x, y)] = moved_points([shape.points["lower left"]], 0.0, 0.0, turn, False)
        move = (at[shape.piece][0] - x, at[shape.piece][1] - y)
        placed.append(lie(shape, region="c", x=move[0], y=move[1], turn_deg=turn, flipped=False))
    lay = Lay(placements=tuple(placed), used={"c": used_on("c", placed)}, fits=True)
    return Laid(
        plan=Plan(name=name), pattern=PATTERN, cloths=(cloth(design),), compiled=compiled, lay=lay
    )


LEVEL = Wish(
    name="level",
    words=("the bars are level",),
    without="the bars are out of level",
    seams=("side",),
    grants=(
        Grant(
            rules=(
                Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left"),
            ),
            lies="along",
        ),
    ),
)
HEM = Wish(
    name="front on the band",
    words=("the band runs along the front",),
    without="no band runs along the front",
    seams=("side",),
    grants=(Grant(rules=(OnBorder(piece="front", edge="hem", border="band"),)),),
)


def told(found: tuple[Weighed, ...]) -> list[tuple[str, str, str]]:
    return [(w.name, w.beaten_by, say(w.because, Unit.cm)) for w in found]


def test_a_print_that_is_out_to_the_side_is_worse_than_one_that_runs_on():
    """Level in height both; a quarter of the repeat aside is no chevron, and is told."""
    on = laid("on", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    aside = laid("aside", CHECK, front=(100.0, 300.0), back=(100.0, 710.0))
    found = weighed([aside, on], (LEVEL,))
    assert [w.shares["level"] for w in found] == [1.0, 1.0]
    assert told(found) == [("on", "", ""), ("aside", "on", "runs on along 40 cm more of the seams")]


@pytest.mark.parametrize("turn", [0.0, 90.0])
def test_what_asks_no_turn_is_had_whichever_way_a_piece_lies(turn):
    """Off the band and in line as the pieces lie: along the cloth and across it alike."""
    design = replace(CHECK, borders=BAND.borders)
    off = Grant(rules=(KeepOff(piece="front", border="band"),))
    plain = replace(LEVEL, name="plain", grants=(off,), seams=())
    meets = replace(LEVEL, name="meets", grants=(Grant(rules=LEVEL.grants[0].rules),), seams=())
    front = {0.0: (100.0, 500.0), 90.0: (100.0, 300.0)}[turn]
    back = {0.0: (100.0, 900.0), 90.0: (550.0, 300.0)}[turn]
    one = laid("one", design, turn, front=front, back=back)
    (found,) = weighed([one], (plain, meets))
    assert found.lacks == ()


def test_a_border_that_stops_at_a_seam_counts_as_all_that_is_broken():
    """The band is 80 mm high: front on it and back off it, so much of the seam does not meet."""
    both = laid("both", BAND, 90.0, front=(100.0, 20.0), back=(400.0, 20.0))
    stops = laid("stops", BAND, 90.0, front=(100.0, 20.0), back=(400.0, 300.0))
    off = laid("off", BAND, 90.0, front=(100.0, 300.0), back=(400.0, 300.0))
    found = {w.name: w for w in weighed([stops, off, both], (HEM,))}
    assert found["stops"].missing == pytest.approx(80.0, abs=1.0)
    assert found["both"].missing == pytest.approx(0.0, abs=1.0)
    assert found["off"].missing == 0.0
    assert found["stops"].shares["front on the band"] == pytest.approx(0.5)
    assert found["stops"].beaten_by == "both"
    assert [found[n].had["front on the band"] is None for n in ("both", "stops", "off")] == [
        False,
        False,
        True,
    ]


def test_what_she_put_first_outweighs_all_that_follows_and_length_comes_last():
    """Of two plans with one wish each, her first decides; of two with the same, the shorter."""
    level = laid("level", CHECK, front=(100.0, 300.0), back=(100.0, 715.0))
    other = laid("other", CHECK, front=(100.0, 300.0), back=(125.0, 700.0))
    aside = replace(
        LEVEL,
        name="in line",
        grants=(Grant(rules=(replace(LEVEL.grants[0].rules[0], match="upright"),)),),
        seams=(),
    )
    assert [w.name for w in weighed([other, level], (LEVEL, aside))] == ["level", "other"]
    assert [w.name for w in weighed([other, level], (aside, LEVEL))] == ["other", "level"]
    far = laid("far", CHECK, front=(100.0, 300.0), back=(600.0, 715.0))
    found = weighed([far, level], (LEVEL,))
    assert told(found)[1] == ("far", "level", "takes 50 cm less cloth")


def test_one_wish_outweighs_all_that_come_after_it():
    """First the sides in line; level twice over and a metre of cloth do not make up for it."""
    first = laid("first", CHECK, front=(100.0, 300.0), back=(1412.0, 700.0))
    rest = laid("rest", CHECK, front=(100.0, 300.0), back=(150.0, 715.0))
    (level,) = LEVEL.grants[0].rules
    near = replace(LEVEL, name="near", grants=(Grant(rules=(level,)),), seams=())
    line = Grant(rules=(replace(level, match="upright"),))
    in_line = replace(LEVEL, name="in line", grants=(line,), seams=())
    found = weighed([rest, first], (in_line, near, LEVEL))
    assert [w.name for w in found] == ["first", "rest"]
    shares = [[round(s, 2) for s in w.shares.values()] for w in found]
    assert sum(shares[0]) < sum(shares[1])
    assert [w.name for w in weighed([rest, first], (near, in_line, LEVEL))] == ["rest", "first"]


def test_a_wish_that_is_had_outweighs_how_far_an_earlier_one_shows():
    """All of both wishes asked for is kept, so it stands before a seam that meets further."""
    line = Grant(rules=(replace(LEVEL.grants[0].rules[0], match="upright"),))
    in_line = replace(LEVEL, name="in line", grants=(line,), seams=())
    one_way = replace(LEVEL, name="one way", grants=(Grant(rules=(OneWay(),)),))
    both = laid("both", CHECK, front=(100.0, 300.0), back=(112.0, 700.0))
    seam = laid("seam", CHECK, front=(100.0, 300.0), back=(100.0, 715.0))
    found = weighed([seam, both], (one_way, in_line))
    assert found[0].shares["one way"] < found[1].shares["one way"]
    assert [(w.name, w.lacks) for w in found] == [("both", ()), ("seam", ("in line",))]


def test_the_cloth_of_plans_that_are_not_whole_is_not_compared():
    """Both leave the back out: which of them takes less cloth for the rest says nothing."""
    short = laid("short", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    long = laid("long", CHECK, front=(400.0, 300.0), back=(100.0, 700.0))
    lacking = [
        replace(
            one,
            lay=replace(
                one.lay,
                placements=one.lay.placements[:1],
                unplaced={"back": "no room"},
                used={"c": used_on("c", one.lay.placements[:1])},
                fits=False,
            ),
        )
        for one in (long, short)
    ]
    found = weighed(lacking, (LEVEL,))
    assert found[0].used != found[1].used
    assert not any("cloth" in say(w.because, Unit.cm) for w in found)


def test_uneven_bars_on_a_piece_that_lies_end_for_end_are_told():
    """Their order is that of no other piece; bars that a half turn leaves alike say nothing."""
    for design, words in (
        (replace(CHECK, axes_across=()), "on the back: it lies end for end"),
        (CHECK, ""),
    ):
        start = laid("start", design, front=(100.0, 300.0), back=(100.0, 700.0))
        front = start.compiled.problem.shapes[0]
        over = lie(front, region="c", x=600.0, y=600.0, turn_deg=180.0, flipped=False)
        turned = replace(
            start, lay=replace(start.lay, placements=(over, *start.lay.placements[1:]))
        )
        told_of = " ".join(other_order(turned))
        assert words in told_of
        assert bool(told_of) is bool(words)
        assert not list(other_order(start))


def test_what_is_not_laid_is_not_had():
    """A piece without a place: what is asked of all pieces and at its seams is lacking."""
    whole = laid("whole", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    lay = whole.lay
    half = replace(
        whole,
        plan=Plan(name="half"),
        lay=replace(lay, placements=lay.placements[:1], unplaced={"back": "no room"}, fits=False),
    )
    none = replace(half, plan=Plan(name="none"), lay=replace(half.lay, unplaced={"a": "", "b": ""}))
    one_way = replace(LEVEL, name="one way", grants=(Grant(rules=(OneWay(),)),), seams=())
    seam = replace(LEVEL, name="seam", grants=(Grant(rules=(OneWay(pieces=("front",)),)),))
    found = weighed([none, half, whole], (one_way, seam))
    assert [w.name for w in found] == ["whole", "half", "none"]
    assert found[0].lacks == ()
    assert [w.shares["one way"] for w in found] == [1.0, 0.0, 0.0]
    assert [w.shares["seam"] for w in found] == [1.0, 0.5, 0.5]
    assert told(found)[1] == ("half", "whole", "has a place for back too")
    words = [say(d, Unit.cm) for d in differences(found[1], found[0], (one_way, seam))]
    assert words[-1] == "It is not whole: it has no place for back."
    assert not any("cloth" in w for w in words)


def test_what_does_not_fit_stands_behind_what_fits():
    """A plan that is too long for the cloth can have every wish, and is no plan to cut."""
    fits = laid("fits", CHECK, front=(100.0, 300.0), back=(125.0, 700.0))
    grand = laid("grand", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    grand = replace(grand, lay=replace(grand.lay, fits=False, short_by=30.0))
    assert [w.name for w in weighed([grand, fits], (LEVEL,))] == ["fits", "grand"]


def test_of_two_that_come_to_the_same_one_is_left():
    """Equal in every respect: the later one is told to come to the same."""
    one = laid("one", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    two = laid("two", CHECK, front=(100.0, 300.0), back=(100.0, 740.0))
    assert told(weighed([one, two], (LEVEL,))) == [
        ("one", "", ""),
        ("two", "one", "comes to the same"),
    ]


def test_what_is_said_of_a_plan_is_what_the_table_says_it_lacks():
    """One verdict, of the lay: a wish is had in one of its ways, or lacking, and never both."""
    line = replace(LEVEL.grants[0].rules[0], match="upright")
    ways = (Grant(rules=(line,), how=("at the hem",)), *LEVEL.grants)
    either = replace(LEVEL, name="in line", grants=ways)
    whole = laid("whole", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    lost = replace(whole, lay=replace(whole.lay, placements=(), unplaced={"back": "", "front": ""}))
    for one, words in (
        (whole, "It has level and in line at the hem."),
        (lost, "It is not whole: it has no place for back and front."),
    ):
        (found,) = weighed([one], (LEVEL, either))
        told_of = [say(w, Unit.cm) for w in verdict(found, (LEVEL, either))]
        assert words in told_of
        lacking = [w for w in told_of if w.startswith("It lacks")]
        assert lacking == [f"It lacks “{n}”: {LEVEL.without}." for n in found.lacks]


def test_differences_are_told_in_her_words():
    """What is lacking, what of the seam meets, and the cloth."""
    one = laid("one", CHECK, front=(100.0, 300.0), back=(100.0, 700.0))
    two = laid("two", CHECK, front=(100.0, 300.0), back=(90.0, 700.0))
    first, second = weighed([one, two], (LEVEL,))
    assert [say(d, Unit.cm) for d in differences(second, first, (LEVEL,))] == [
        "It lacks “level”: the bars are out of level.",
        "At the side the print meets along 0% of it instead of 100%.",
    ]
    assert differences(first, first, (LEVEL,)) == ()
