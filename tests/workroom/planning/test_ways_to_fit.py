"""Ways to fit a plan that is too long, on panels whose lay can be reckoned by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial

import pytest

from clothwright.cli import ways_to_fit as command
from clothwright.cli.app import run
from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.pattern.parts import facing_names, held_together
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Level, Role
from clothwright.pattern.refs import parse_edge
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.concessions import (
    Amendment,
    concessions,
    together,
)
from clothwright.rules.weighing.laid import short_cloths
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Workbook, replay
from clothwright.workroom.editing.committing import apply_edit
from clothwright.workroom.planning.tried import edited, ways_to_fit
from clothwright.workroom.planning.ways_kept import keep_ways, way_edit, ways_report
from clothwright.workroom.searching.laying import compile_plan, lay_plan, recall
from tests.few_rounds import LONG_S, ROUNDS
from tests.lay.panels import bordered, panel, skirt

ON = tuple(OnBorder(piece=p, edge="hem", border="b") for p in ("front", "back"))
LINING = Cloth(name="lining", width=1000.0, material="lining")


def deep(pattern, depth):
    """The pattern with every hem so deep."""
    return replace(
        pattern,
        pieces=tuple(
            replace(
                p,
                edges=tuple(
                    replace(e, allowance=depth) if e.role is Role.HEM else e for e in p.edges
                ),
            )
            for p in pattern.pieces
        ),
    )


def book(*rules, length=900.0, pattern=None, cloths=(), gap=2.0):
    plan = Plan(name="all on", rules=rules)
    own = Workbook(
        title="t",
        unit=Unit.cm,
        bought=pattern or skirt(),
        cloths=(bordered(), *cloths),
        plans=(plan,),
    )
    own = replace(own, cloths=(replace(own.cloths[0], length=length), *own.cloths[1:]))
    return replace(own, settings=replace(own.settings, gap=gap))


def narrow(own, *more):
    """Plain cloth, 480 mm of it usable across."""
    return replace(own, cloths=(replace(own.cloths[0], width=500.0, print=Print()), *more))


def _given_up(own, short):
    return concessions(
        own.bought, own.plan(), own.cloths, short, gap=own.settings.gap, least_hem=30.0
    )


def tried(own, **more):
    laid = lay_plan(own, seconds=LONG_S, rounds=ROUNDS)
    assert not laid.lay.fits
    return laid, ways_to_fit(own, laid, seconds=LONG_S, rounds=ROUNDS, **more)


def test_a_plan_that_fits_needs_no_way_out():
    """Nothing is tried when everything has its place."""
    own = book(length=2000.0)
    laid = lay_plan(own, seconds=LONG_S, rounds=ROUNDS)
    assert ways_to_fit(own, laid, seconds=LONG_S, rounds=ROUNDS) == ()


def test_edge_to_edge_saves_the_gaps():
    """A row of 420 + 2 x 240 with two gaps of 2 mm is 904 mm: 900 are enough edge to edge."""
    laid, ways = tried(book(*ON))
    assert laid.lay.short_by == pytest.approx(4.0, abs=0.1)
    assert ways[0].key == "gap"
    assert ways[0].fits
    assert ways[0].short_by == 0.0
    assert ways[0].used["c"] == pytest.approx(900.0, abs=0.01)
    assert all(w.laid.faults == () for w in ways)


def test_each_way_says_what_it_is_and_what_it_costs():
    """Every way has words, a look, its length, and exactly one or more concessions."""
    _, ways = tried(book(*ON, length=880.0))
    assert any(w.fits for w in ways)
    for w in ways:
        assert say(w.what, Unit.inch)
        assert w.look
        assert set(w.used) == {"c"}
        assert w.given
    keys = [w.key for w in ways]
    assert len(keys) == len(set(keys))


def test_the_border_is_offered_by_whole_sets_and_piece_by_piece():
    """Front and back are sewn at the side: one set; each alone breaks the border at that seam."""
    own = book(*ON, length=880.0)
    found = _given_up(own, own.cloths)
    by_key = {c.key: c for c in found}
    assert by_key["border front, back"].edit.drop == (1, 2)
    assert by_key["border front"].edit.drop == (1,)
    assert by_key["border front"].loss > by_key["border front, back"].loss
    words = [say(s, Unit.cm) for s in by_key["border back"].look]
    assert any("breaks off" in w for w in words)


def test_pieces_may_run_into_the_border_they_keep_off():
    """1000 wide, a border to 140: 850 of it take one panel of 460 mm a row, 980 take both.

    On a border with a top they would lie on its side, so there it is not offered.
    """
    off = KeepOff(piece="back", border="b", by=10.0)
    own = book(off, length=600.0, pattern=Pattern(pieces=tuple(map(wide, ("front", "back")))))
    assert not [c for c in _given_up(own, own.cloths) if c.key.startswith("into")]
    (cloth,) = own.cloths
    border = replace(cloth.print.borders[0], down="either")
    own = replace(own, cloths=(replace(cloth, print=replace(cloth.print, borders=(border,))),))
    found = {w.key: w for w in tried(own)[1]}
    assert found["into b back"].fits
    assert found["into b back"].plan.rules == (MayRunInto(piece="back", border="b"),)
    assert say(found["into b back"].what, Unit.cm) == "let back run into the border b"
    assert any("may show on back" in say(s, Unit.cm) for s in found["into b back"].look)


def wide(name):
    return panel(name, 440.0, 500.0, "once")


def test_a_meeting_rule_is_dropped_alone():
    """Matching goes, the border stays."""
    meets = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
    own = book(*ON, meets)
    found = {c.key: c for c in _given_up(own, own.cloths)}
    after = edited(own, own.plan(), found["rule 3"].edit, "new")
    assert after.plan("new").rules == ON
    assert after.plan("all on") == own.plan("all on")
    assert after.chosen_plan == "new"


def test_hems_are_shortened_to_the_least_allowed():
    """Hems of 80 mm on two panels end to end: 2 x 45 mm are saved at the 35 mm the maker allows."""
    tall = Pattern(pieces=(deep_panel("front", 80.0), deep_panel("back", 80.0)))
    own = book(length=1150.0, pattern=tall)
    own = narrow(own)
    # each 500 + 80 + 10 mm long and 420 wide on 480 usable: 2 x 590 + 2 = 1182 > 1150
    laid, ways = tried(own, least_hem=35.0)
    assert laid.lay.short_by == pytest.approx(32.0, abs=0.5)
    hems = [w for w in ways if any(c.kind == "hem" for c in w.given)]
    assert any(w.fits for w in hems)
    first = next(w for w in hems if w.fits)
    done = replay(edited(own, own.plan(), first.edit, first.plan.name))
    assert not [t.error for t in done.told if t.error]
    depths = [done.pattern.piece(p).edge("hem").allowance for p in ("front", "back")]
    assert min(depths) == pytest.approx(35.0)


def deep_panel(name, depth):
    one = panel(name, 400.0, 500.0, "once")
    return replace(one, edges=(replace(one.edges[0], allowance=depth), *one.edges[1:]))


def test_a_hem_below_the_least_is_not_offered():
    """Hems of 10 mm cannot be made shallower than 30 mm."""
    own = book(*ON)
    found = _given_up(own, own.cloths)
    assert not [c for c in found if c.kind == "hem"]


def faced():
    """A front with a facing, both from the shell."""
    front = panel("front", 400.0, 500.0, "once")
    side = panel("neck piece", 400.0, 300.0, "once")
    seam = Seam(
        name="facing seam",
        a=(parse_edge("front.top"),),
        b=(parse_edge("neck piece.top"),),
        kind="facing",
    )
    return Pattern(pieces=(front, side), seams=(seam,))


def test_a_facing_is_cut_from_the_lining():
    """520 + 320 mm end to end on 480 mm of width do not fit 600; without the facing 520 do."""
    own = book(length=600.0, pattern=faced(), cloths=(LINING,))
    own = narrow(own, LINING)
    _, ways = tried(own)
    best = ways[0]
    assert best.fits
    assert best.key == "facing neck piece from lining"
    assert best.plan.rules == (CutFrom(piece="neck piece", material="shell", cloth="lining"),)
    assert best.used["lining"] > 0
    assert any("buy" in say(s, Unit.cm) for s in best.look)


def test_facings_are_known_by_seam_or_name():
    """Side b of a facing seam, or a piece whose name says it; interfacing takes none."""
    assert facing_names(faced()) == ("neck piece",)
    own = book(pattern=faced(), cloths=(replace(LINING, name="stiff", material="interfacing"),))
    found = _given_up(own, own.cloths[:1])
    assert not [c for c in found if c.kind == "facing"]


def test_across_the_grain_is_marked():
    """A band may lie across; it says that it is off the grain, and a panel is never offered so."""
    band = panel("band", 60.0, 700.0, "once")
    own = book(pattern=Pattern(pieces=(band, panel("front", 400.0, 500.0, "once"))))
    found = _given_up(own, own.cloths)
    across = [c for c in found if c.kind == "across"]
    assert [c.key for c in across] == ["across band"]
    assert across[0].edit.add == (OnGrain(piece="band", grain="across"),)
    assert "Off the grain" in say(across[0].look[0], Unit.cm)


def test_several_together_when_none_is_enough():
    """A front of 590 mm and a facing of 320 on 541: hem (540) and facing are both needed."""
    own = book(length=541.0, pattern=faced().with_piece(deep_panel("front", 80.0)))
    own = narrow(own, LINING)
    _, ways = tried(own, least_hem=30.0)
    assert ways[0].fits
    assert {c.kind for c in ways[0].given} == {"facing", "hem"}
    assert not any(w.fits for w in ways if len(w.given) == 1)
    assert ways[0].used["c"] == pytest.approx(540.0, abs=0.1)


def test_the_short_cloth_is_named():
    """Only the cloth of fixed length that is overrun counts as short."""
    own = book(*ON, cloths=(LINING,))
    assert short_cloths(lay_plan(own, seconds=LONG_S, rounds=ROUNDS)) == ("c",)


def test_groups_follow_seams():
    """Pieces that a plain seam joins are one set, in the pattern's order."""
    assert list(held_together(skirt(), ["back", "front"], kinds=("plain",))) == [("front", "back")]
    assert list(held_together(skirt(), ["back", "front"], kinds=("cap",))) == [
        ("front",),
        ("back",),
    ]


def test_an_empty_edit_changes_only_the_name():
    """The plan keeps its rules, the workbook its pieces."""
    own = book(*ON)
    after = edited(own, own.plan(), Amendment(), "same")
    assert after.plan("same").rules == own.plan("all on").rules
    assert (
        compile_plan(after, after.plan("same")).compiled.problem
        == compile_plan(own, own.plan("all on")).compiled.problem
    )


def test_the_chosen_way_is_written_and_fits(tmp_path):
    """Listed, kept, applied by number: the workbook has the new plan, and its kept lay fits."""
    own = book(*ON)
    folder = tmp_path / "b"
    create(folder, own)
    own = load(folder)
    laid, ways = tried(own)
    keep_ways(folder, ways_report(own, laid, ways, least_hem=30.0))
    edit, entry = way_edit(folder, own, "", 1)
    after = apply_edit(own, edit)
    assert entry["key"] == ways[0].key
    assert after.plan().name == ways[0].plan.name
    kept = recall(folder, after)
    assert kept is not None
    assert kept.lay.fits
    with pytest.raises(BadInput, match="no way to fit 99"):
        way_edit(folder, own, "", 99)
    changed = replace(own, cloths=(replace(own.cloths[0], length=890.0),))
    with pytest.raises(BadInput, match="no ways to fit are kept"):
        way_edit(folder, changed, "", 1)


def test_the_command_lists_and_applies(tmp_path, capsys, monkeypatch):
    """lay points to ways-to-fit; ways-to-fit lists them with costs; --apply writes the plan."""
    folder = tmp_path / "b"
    create(folder, book(*ON))
    monkeypatch.setattr(command, "find_ways", partial(ways_to_fit, rounds=ROUNDS))
    long = ["--seconds", f"{LONG_S}", "--quiet"]
    few = [*long, "--rounds", f"{ROUNDS}"]
    assert run(["lay", str(folder), *few]) == 1
    assert "What would make it fit: clothwright ways-to-fit" in capsys.readouterr().out
    file = tmp_path / "w.json"
    code = run(["ways-to-fit", str(folder), *long, "--json", str(file)])
    said = capsys.readouterr().out
    assert code == 0, said
    assert "1. Lay the pieces edge to edge" in said
    assert "Costs:" in said
    data = json.loads(file.read_text())
    assert data["format"] == "clothwright-ways-to-fit/1"
    assert data["ways"][0]["fits"]
    assert data["ways"][0]["edits"]["gap_mm"] == 0.0
    assert run(["ways-to-fit", str(folder), "--apply", "1"]) == 0
    after = load(folder)
    assert after.settings.gap == 0.0
    assert after.chosen_plan == "all on, gap"
    assert run(["lay", str(folder), *few]) == 0
    capsys.readouterr()
    assert run(["ways-to-fit", str(folder), "--plan", "all on, gap", "--apply", "1"]) == 2
    assert "without --apply" in capsys.readouterr().err


def levelled():
    """The skirt's front with a level 200 mm above its hem."""
    whole = skirt()
    front = replace(whole.piece("front"), levels=(Level(name="knee", at=Vec(0.0, 200.0)),))
    return whole.with_piece(front)


def test_a_seam_makes_a_panel_fit():
    """A single board of 400 by 700 on 600 of length: in two parts side by side it fits."""
    board = panel("board", 400.0, 700.0, "once")
    board = replace(board, levels=(Level(name="knee", at=Vec(0.0, 350.0)),))
    own = book(length=600.0, pattern=Pattern(pieces=(board,)))
    laid, ways = tried(own)
    assert laid.lay.short_by == pytest.approx(120.0, abs=0.5)
    best = ways[0]
    assert best.fits
    assert best.key == "seam board knee"
    assert {p.name for p in best.laid.pattern.pieces} == {"board upper", "board lower"}
    assert best.laid.faults == ()
    assert "one more seam" in say(best.look[0], Unit.cm)


def test_rules_name_the_parts_of_a_piece_cut_in_two():
    """The hem's rule goes to the part with the hem, a meeting to the part with its point."""
    meets = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
    high = Meets(piece_a="back", point_a="upper left", piece_b="front", point_b="upper right")
    gone = Meets(piece_a="front", point_a="right middle", piece_b="back", point_b="left middle")
    grain = OnGrain(piece="front", grain="across")
    own = book(*ON, meets, high, gone, grain, pattern=levelled())
    other = Plan(name="other", rules=(ON[0],))
    own = replace(own, plans=(*own.plans, other))
    found = _given_up(own, own.cloths)
    edit = next(c for c in found if c.key == "seam front knee").edit
    after = edited(own, own.plan(), edit, "new")
    rules = after.plan("new").rules
    assert rules[0] == replace(ON[0], piece="front lower")
    assert replace(meets, piece_a="front lower") in rules
    assert replace(high, piece_b="front upper") in rules
    assert not [r for r in rules if isinstance(r, Meets) and "right middle" in r.point_a]
    assert [r.piece for r in rules if isinstance(r, OnGrain)] == ["front upper", "front lower"]
    assert after.plan("other").rules == (replace(ON[0], piece="front lower"),)
    for plan in after.plans:
        assert compile_plan(after, plan).compiled.problem.shapes


def test_a_seam_on_the_fold_keeps_the_rules():
    """The front is cut as a pair; its rules stand as they were."""
    own = book(*ON, pattern=levelled())
    found = _given_up(own, own.cloths)
    edit = next(c for c in found if c.key == "seam front fold").edit
    after = edited(own, own.plan(), edit, "new")
    assert after.plan("new").rules == ON
    shapes = compile_plan(after, after.plan("new")).compiled.problem.shapes
    assert [s.id for s in shapes if s.piece == "front"] == ["front 1", "front 2"]


def test_half_an_inch_higher_comes_before_leaving_the_border_or_a_seam():
    """Hems that hang 8 mm off the cloth where they should lie: 1/2 in higher they fit.

    By hand: 10 mm of allowance below a hem 2 mm from the edge; 12.7 mm higher it is 4.7 mm inside.
    """
    own = book(*ON, length=2000.0)
    cloth = replace(own.cloths[0], margin_lower=0.0, margin_upper=0.0)
    border = replace(cloth.print.borders[0], base=2.0)
    own = replace(own, cloths=(replace(cloth, print=replace(cloth.print, borders=(border,))),))
    _, ways = tried(own)
    assert ways[0].fits
    assert ways[0].loss == 1
    assert say(ways[0].what, Unit.inch) == "lay front and back 1/2 in higher on the b"
    assert [r.above for r in ways[0].plan.rules] == [12.7, 12.7]
    assert ways[0].laid.faults == ()
    looks = {w.key: w.loss for w in ways if w.fits}
    assert all(looks[key] > 1 for key in looks if key.startswith(("border", "seam", "rule")))


def test_a_rule_is_offered_with_room_before_it_is_left_out():
    """Centred within 1/4 in to either side, in its own place of the order, before not at all."""
    centred = AtPhase(piece="front", point="lower left", along=0.0, across=0.0)
    meets = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
    own = book(centred, meets)
    found = {c.key: c for c in _given_up(own, own.cloths)}
    assert list(found).index("room 1 side") < list(found).index("rule 1")
    assert found["room 1 side"].loss < found["rule 1"].loss
    assert say(found["room 1 side"].what, Unit.inch) == (
        "let front, lower left, lie up to 1/4 in to either side"
    )
    after = edited(own, own.plan(), found["room 1 side"].edit, "new").plan("new").rules
    assert after == (replace(centred, aside=6.35), meets)
    both = together([found["room 1 height"].edit, found["room 2 apart"].edit])
    assert edited(own, own.plan(), both, "new").plan("new").rules == (
        replace(centred, lower=12.7, higher=12.7),
        replace(meets, within=3.175),
    )
    again = book(replace(centred, aside=1.0), meets)
    assert "room 1 side" not in {c.key for c in _given_up(again, again.cloths)}
