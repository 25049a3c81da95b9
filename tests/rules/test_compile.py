"""From pattern, cloth and plan to shapes and rules: reckoned by hand on rectangles."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.errors import BadInput
from clothwright.lay import problem as put
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.pattern.refs import parse_edge
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import asked, bordered, skirt


def compiled(*rules, cloth=None, pattern=None):
    return compile_lay(
        pattern or skirt(), (cloth or bordered(),), Plan(name="p", rules=rules), gap=2.0
    )


def size(ring):
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def test_a_half_piece_is_unfolded_and_a_pair_is_two():
    """On the fold: one shape of twice the width; a pair: two, the second turned over."""
    shapes = {s.id: s for s in compiled().problem.shapes}
    assert set(shapes) == {"front", "back 1", "back 2"}
    assert size(shapes["front"].outline) == pytest.approx((520.0, 420.0))
    assert [s.flips for s in shapes.values()] == [(False,), (False,), (True,)]


def test_the_grain_lies_along_x_and_points_of_both_halves_are_there():
    """The hem (bottom as drawn) has the smallest x; the mirrored half's points end in ~."""
    front = compiled().problem.shapes[0]
    assert front.points["hem start"][0] == pytest.approx(-250.0)
    assert front.points["top start"][0] == pytest.approx(250.0)
    right, left = front.points["lower right"], front.points["lower right~"]
    assert right[0] == left[0]
    assert abs(right[1] - left[1]) == pytest.approx(400.0)


def test_a_border_rule_lays_the_hem_on_its_line_across_the_cloth():
    """Lower border, base 40 mm, 10 above: y = 50; the piece turns its hem to that selvedge."""
    problem = compiled(OnBorder(piece="front", edge="hem", border="b", above=10.0)).problem
    rule = problem.rules[0]
    assert isinstance(rule, put.OnLine)
    assert (rule.axis, rule.at) == ("across", 50.0)
    assert set(rule.points) == {"hem start", "hem end", "hem start~", "hem end~"}
    assert problem.shapes[0].turns_deg == (90.0,)


@pytest.mark.parametrize(
    ("side", "down", "upside_down", "turn", "y"),
    [
        ("lower", "selvedge", False, 90.0, 40.0),
        ("lower", "middle", False, 270.0, 40.0),
        ("upper", "selvedge", False, 270.0, 960.0),
        ("upper", "middle", False, 90.0, 960.0),
        ("lower", "either", True, 270.0, 40.0),
        ("upper", "either", True, 90.0, 960.0),
    ],
)
def test_which_way_up_on_a_border(side, down, upside_down, turn, y):
    """The border's "down" points down the body: towards its selvedge or to the middle."""
    cloth = bordered()
    border = replace(cloth.print.borders[0], side=side, down=down)
    cloth = replace(cloth, print=replace(cloth.print, borders=(border,)))
    rule = OnBorder(piece="front", edge="hem", border="b", upside_down=upside_down)
    problem = compiled(rule, cloth=cloth).problem
    assert problem.shapes[0].turns_deg == (turn,)
    assert problem.rules[0].at == y


def test_a_seam_meets_on_both_sides_of_the_body():
    """Front (unfolded) and a pair of backs: drawn half with the first, mirrored with the second."""
    rule = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
    rules = [r for r in compiled(rule).problem.rules if isinstance(r, put.SamePhase)]
    assert [(r.shape_a, r.point_a, r.shape_b, r.point_b) for r in rules] == [
        ("front", "lower right", "back 1", "lower left"),
        ("front", "lower right~", "back 2", "lower left"),
    ]
    assert {(r.axis, r.repeat) for r in rules} == {("along", 50.0)}


def test_level_is_across_the_cloth_for_a_piece_on_a_border():
    """On a border the body's height runs across the cloth, so "level" is counted there."""
    rules = compiled(
        OnBorder(piece="front", edge="hem", border="b"),
        OnBorder(piece="back", edge="hem", border="b"),
        Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left"),
    ).problem.rules
    assert {r.axis for r in rules if isinstance(r, put.SamePhase)} == {"across"}


def test_pieces_drawn_for_opposite_halves_meet_crosswise():
    """Both edges forward: the second piece is drawn for the other half of the body."""
    pattern = skirt()
    seam = pattern.seams[0]
    pattern = replace(pattern, seams=(replace(seam, b=(parse_edge("back.right"),)),))
    rule = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower right")
    rules = [
        r for r in compiled(rule, pattern=pattern).problem.rules if isinstance(r, put.SamePhase)
    ]
    assert [(r.point_a, r.shape_b) for r in rules] == [
        ("lower right", "back 2"),
        ("lower right~", "back 1"),
    ]


def test_a_mirrored_pair():
    """About an axis of the figure one way, at the same phase the other way, turned as mirrored."""
    rules = compiled(Mirrored(piece="back", point="lower right", way="across")).problem.rules
    turn, same, mirror = rules[:3]
    assert isinstance(mirror, put.MirrorPhase)
    assert (mirror.axis, mirror.repeat, mirror.about) == ("across", 40.0, 0.0)
    assert isinstance(turn, put.SameTurn)
    assert (turn.shapes, turn.mirrored, turn.by_deg) == (("back 1", "back 2"), True, 0.0)
    assert isinstance(same, put.SamePhase)
    assert (same.axis, same.repeat) == ("along", 50.0)


def test_a_phase_counts_from_the_prints_origin():
    """Phase 12 along, origin 5: x = 17 modulo 50, for every copy."""
    rules = compiled(AtPhase(piece="back", point="lower right", along=12.0)).problem.rules
    assert [(r.shape, r.phase, r.repeat) for r in rules[:2]] == [
        ("back 1", 17.0, 50.0),
        ("back 2", 17.0, 50.0),
    ]


def test_nap_and_one_way_turn_everything_alike():
    """A napped cloth ties all its pieces to one turn; a one-way design fixes it."""
    rules = compiled(cloth=replace(bordered(), nap=True)).problem.rules
    (turn,) = (r for r in rules if isinstance(r, put.SameTurn))
    assert set(turn.shapes) == {"front", "back 1", "back 2"}
    cloth = bordered()
    one_way = replace(cloth, print=replace(cloth.print, up="end"))
    assert {s.turns_deg for s in compiled(cloth=one_way).problem.shapes} == {(0.0,)}
    (turn,) = asked(compiled(OneWay(pieces=("back",))).problem)
    assert turn.shapes == ("back 1", "back 2")


def test_grain_rules():
    """Across: 90 or 270 degrees; bias: 45 degrees every way, with its tilt."""
    shapes = compiled(
        OnGrain(piece="front", grain="across"), OnGrain(piece="back", grain="bias", tilt_deg=2.0)
    ).problem.shapes
    assert shapes[0].turns_deg == (90.0, 270.0)
    assert shapes[1].turns_deg == (45.0, 135.0, 225.0, 315.0)
    assert shapes[1].tilt_deg == 2.0


def test_flaws_grow_by_their_margin_and_washing_shrinks_the_cloth():
    """A 10 mm hole with 5 mm margin keeps out 20 mm; 10 % shrinkage along shortens everything."""
    flaw = Flaw(name="hole", ring=((100, 100), (110, 100), (110, 110), (100, 110)), margin=5.0)
    cloth = replace(bordered(), flaws=(flaw,), shrink_along=0.1)
    done = compiled(cloth=cloth)
    region = done.problem.regions[0]
    assert region.length == pytest.approx(2700.0)
    xs, ys = [p[0] for p in region.keep_out[0]], [p[1] for p in region.keep_out[0]]
    assert (min(xs), max(xs)) == (pytest.approx(85.0), pytest.approx(104.0))
    assert (min(ys), max(ys)) == (pytest.approx(95.0), pytest.approx(115.0))
    assert done.cloth("c").print.repeat_along == pytest.approx(45.0)


def test_cut_from_another_cloth_and_no_cloth_at_all():
    """A rule sends a piece to another cloth; a material without a cloth is told."""
    other = Cloth(name="other", width=900.0, material="lining")
    plan = Plan(name="p", rules=(CutFrom(piece="back", material="shell", cloth="other"),))
    done = compile_lay(skirt(), (bordered(), other), plan)
    assert [s.regions for s in done.problem.shapes] == [("c",), ("other",), ("other",)]
    alone = compile_lay(skirt(), (replace(bordered(), material="lining"),), Plan(name="p"))
    assert alone.notes == (
        "No cloth is named for front in shell, so it is not laid.",
        "No cloth is named for back in shell, so it is not laid.",
    )


def test_a_pin_fixes_turn_and_place():
    """A pinned copy keeps the turn it was laid at; the other copy stays free."""
    rule = Pin(piece="back", copy=2, cloth="c", x=400.0, y=300.0, turn_deg=180.0, flipped=True)
    done = compiled(rule).problem
    assert [s.turns_deg for s in done.shapes] == [(0.0, 180.0), (0.0, 180.0), (180.0,)]
    assert done.rules[0] == put.Pinned(
        id="1 pin back 2",
        shape="back 2",
        region="c",
        x=400.0,
        y=300.0,
        turn_deg=180.0,
        flipped=True,
    )


@pytest.mark.parametrize(("side", "low", "high"), [("lower", 34, 146), ("upper", 854, 966)])
def test_keeping_off_a_border_is_a_band(side, low, high):
    """The border's band grown by the distance, for every copy, on either side of the cloth."""
    base = bordered()
    borders = (replace(base.print.borders[0], side=side),)
    cloth = replace(base, print=replace(base.print, borders=borders))
    rules = compiled(KeepOff(piece="back", border="b", by=6.0), cloth=cloth).problem.rules
    assert {(r.shape, r.region, r.low, r.high) for r in rules} == {
        ("back 1", "c", low, high),
        ("back 2", "c", low, high),
        ("front", "c", *sorted((low + 6.0, high - 6.0))),
    }


def test_pieces_kept_off_a_border_are_laid_beside_it():
    """What no rule names leaves the border free; pieces that may run into it do."""
    rules = [MayRunInto(piece=name, border="b") for name in ("front", "back")]
    kept, free = compiled(), compiled(*rules)
    lay = solve(kept.problem, seconds=30.0, rounds=10)
    assert judge(kept.problem, lay) == ()
    assert len(lay.placements) == 3
    assert all(y >= 140.0 - 1e-3 for place in lay.placements for _, y in place.outline)
    loose = solve(free.problem, seconds=30.0, rounds=10)
    assert any(y < 140.0 for place in loose.placements for _, y in place.outline)


def test_a_piece_with_no_room_beside_the_border_is_told():
    """Kept off by so much that nothing is left beside the border, the piece says so."""
    asked = compiled(*(KeepOff(piece=name, border="b", by=400.0) for name in ("front", "back")))
    lay = solve(asked.problem, seconds=30.0, rounds=2)
    turned = replace(
        asked.problem,
        shapes=tuple(replace(s, turns_deg=(90.0,)) for s in asked.problem.shapes),
    )
    told = solve(turned, seconds=30.0, rounds=2).unplaced
    assert not lay.unplaced
    assert all("beside the border" in say(why, Unit.mm) for why in told.values())
    assert len(told) == 3


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        (OnBorder(piece="front", edge="hem", border="vine"), 'no cloth has a border "vine"'),
        (OnBorder(piece="front", edge="hme", border="b"), 'Did you mean "hem"'),
        (OnBorder(piece="frotn", edge="hem", border="b"), 'Did you mean "front"'),
        (AtPhase(piece="front", point="lower rigth", along=0.0), 'Did you mean "lower right'),
        (Mirrored(piece="front", point="lower right"), "not cut as a pair"),
        (
            Meets(
                piece_a="front",
                point_a="hem start",
                piece_b="back",
                point_b="hem start",
                match="sideways",
            ),
            '"sideways" is not a choice here; expected one of level, upright, both',
        ),
        (KeepOff(piece="front", border="vine"), 'no cloth has a border "vine"'),
        (KeepOff(piece="frnt", border="b"), 'Did you mean "front"'),
        (KeepOff(piece="front", border="b", by=-50.0), "more than the border is high"),
        (OnGrain(piece="front", grain="up"), "one of along, across, bias"),
        (CutFrom(piece="front", material="shell", cloth="silk"), 'no cloth "silk"'),
    ],
)
def test_a_rule_that_cannot_be_is_told(rule, words):
    """Every name is looked up; the sentence says which rule and what was meant."""
    with pytest.raises(BadInput) as caught:
        compiled(rule)
    assert words in str(caught.value)


def test_a_design_that_does_not_repeat_has_no_phase():
    """A phase on a plain cloth is refused in words."""
    cloth = Cloth(name="c", width=900.0)
    with pytest.raises(BadInput, match="does not repeat along"):
        compiled(AtPhase(piece="front", point="hem start", along=0.0), cloth=cloth)
