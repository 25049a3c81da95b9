"""Levels meet across a seam, whatever is eased, darted or longer elsewhere."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.lengthen import lengthened
from clothwright.changes.match_level import CHANGE
from clothwright.changes.turn_grain import TurnGrain
from clothwright.changes.turn_grain import apply as turn_grain
from clothwright.checks import DEFAULTS
from clothwright.checks.levels_across import levels_across, meetings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.level_spots import level_spot
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Level, Role
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from clothwright.workbook import change_of
from tests.checks.specimens import curve, outfit, seam
from tests.garments.wardrobe import GARMENTS, settings_of


def longer(p: Pattern, name: str, at: float, by: float) -> Pattern:
    return p.with_piece(lengthened(p.piece(name), Vec(0, at), by))


@pytest.mark.parametrize("by", [25.0, 8.0])
def test_what_is_added_above_on_one_and_below_on_the_other_is_found(by: float) -> None:
    """Points below the line move by what is added (trade facts, 6.3): the waists part.

    The front is made longer below its waist, the back above it: both sides stay equally long.
    """
    p = longer(longer(outfit(), "front", 10.0, by), "back", 60.0, by)
    found = [f for f in levels_across(p, DEFAULTS) if f.where.seam == "side"]
    assert [f.code for f in found] == ["levels-apart"]
    assert found[0].measured == pytest.approx(by, abs=0.05)
    assert found[0].where.point == "waist"


def test_the_same_on_both_is_right() -> None:
    """Front and back cut at the same distance from the underarm: the levels stay together."""
    p = longer(longer(outfit(), "front", 60.0, 25.0), "back", 60.0, 25.0)
    assert list(levels_across(p, DEFAULTS)) == []


def test_a_piece_longer_beyond_the_level_keeps_it() -> None:
    """A hem let down on one side is told elsewhere: counted from the top the waists meet."""
    p = longer(outfit(), "front", 5.0, 30.0)
    assert list(levels_across(p, DEFAULTS)) == []


def test_a_level_that_a_dart_points_to_may_be_off_by_what_it_takes() -> None:
    """The bust dart takes 20 mm: 15 mm apart is what its fold may shift, 35 mm is 15 too many."""
    p = outfit()
    piece = p.piece("front")
    bust = Level(name="bust", at=Vec(100, 170))
    p = p.with_piece(replace(piece, levels=(bust,)))
    for by, off in ((15.0, 0.0), (35.0, 15.0)):
        back = p.piece("back")
        level = Level(name="bust", at=Vec(-100, 170 - 20 + by))
        more = replace(back, levels=(*back.levels, level))
        met = [m for m in meetings(p.with_piece(more), p.seam("side")) if m.level == "bust"]
        assert abs(met[0].off) == pytest.approx(off, abs=0.05)


def test_a_piece_sewn_to_itself_is_told_as_one() -> None:
    """A sleeve whose line runs aslant: no other piece to match, so that a notice is left to her."""
    p = outfit()
    sleeve = p.piece("sleeve")
    assert sleeve.grain is not None
    end = rotation_deg(3.0, sleeve.grain.start).apply(sleeve.grain.end)
    grain = replace(sleeve.grain, end=end)
    aslant = replace(sleeve, grain=grain, levels=(Level(name="elbow", at=Vec(0, -200)),))
    found = list(levels_across(p.with_piece(aslant), DEFAULTS))
    assert [(f.severity.value, f.mend) for f in found] == [("notice", None)]
    assert say(found[0].words, Unit.cm).startswith(
        'Sewn together along seam "underarm", the two ends'
    )


def test_what_a_seam_is_meant_to_be_stretched_by_lies_above_the_level_or_below() -> None:
    """A back inseam 6 mm shorter, stretched above the knee; then let down 20 below it.

    Counted from the hem the knees lie 20 apart, from the crotch 6, which is the stretch.
    """
    p = GARMENTS["trousers"]()
    inseam = next(s for s in p.seams if s.ease < 0)
    meant = [m for m in meetings(p, inseam) if m.level == "knee"]
    assert [m.off for m in meant] == pytest.approx([0.0], abs=0.5)
    back = inseam.b[0].piece
    level = p.piece(back).level("knee").at
    let_down = p.with_piece(lengthened(p.piece(back), level - Vec(0.0, 150.0), 20.0))
    knees = [m.off for m in meetings(let_down, inseam) if m.level == "knee"]
    assert knees == pytest.approx([0.0], abs=0.5)


def test_a_level_that_runs_along_a_seam_crosses_it_nowhere() -> None:
    """The waist line of a bodice and its lining, whose waist seams wind about it each its own way.

    Both seams are equally long to 0.1 mm; where they touch the line lies 100 mm apart.
    """
    p = outfit()
    front = p.piece("front")
    pieces = []
    for name, x in (("front", 70.0), ("inside", 170.0)):
        hem = Path((*curve(Vec(0, -3), 0, Vec(x, 0), 4).segments,
                    *curve(Vec(x, 0), 4, Vec(240, 0), 0).segments))  # fmt: skip
        low = replace(front.edge("centre"), path=polyline(((0, 380), (0, -3))))
        drawn = {"hem": hem, "centre": low.path}
        edges = (replace(e, path=drawn.get(e.name, e.path)) for e in front.edges)
        level = (Level(name="waist", at=Vec(100, 0)),)
        pieces.append(replace(front, name=name, edges=tuple(edges), levels=level))
    p = replace(p.with_piece(pieces[0]), pieces=(pieces[0], *p.pieces[1:], pieces[1]))
    p = replace(p, seams=(*p.seams, seam("waist edge", "front.hem", "inside.hem", kind="facing")))
    assert level_spot(p, p.seam("waist edge").a, "waist") is not None
    assert [f for f in levels_across(p, DEFAULTS) if f.where.seam == "waist edge"] == []


@pytest.mark.parametrize("deg", [4.0, -6.0])
def test_a_grain_that_slipped_takes_its_levels_with_it_and_is_turned_back(deg: float) -> None:
    """A skirt back with a straight centre seam, its grain line turned: the hip lines part."""
    p = outfit()
    grain = p.piece("skirt back").grain
    assert grain is not None
    name, edge = "skirt back", p.piece("skirt back").edge("centre")
    seamed = p.piece(name).with_edge(replace(edge, role=Role.CENTRE))
    seamed = replace(seamed, levels=(Level(name="hip", at=grain.start),), cuts=())
    front = replace(p.piece("skirt front"), levels=(Level(name="hip", at=Vec(10, grain.start.y)),))
    p = p.with_piece(seamed).with_piece(front)
    assert [f for f in levels_across(p, DEFAULTS) if f.where.point == "hip"] == []
    end = rotation_deg(deg, grain.start).apply(grain.end)
    slipped = p.with_piece(replace(seamed, grain=replace(grain, end=end)))
    (found,) = (f for f in levels_across(slipped, DEFAULTS) if f.where.point == "hip")
    assert (found.where.piece, found.mend and found.mend.change) == (name, "turn-grain")
    assert "leans against its straight centre line" in say(found.words, Unit.cm)
    params = TurnGrain(piece=name, edge=f"{name}.centre")
    mended = turn_grain(slipped, params).pattern
    assert mended.piece(name).up.dot(grain.direction) == pytest.approx(1.0)
    assert list(levels_across(mended, DEFAULTS)) == []


def test_a_line_is_not_moved_while_the_seam_it_is_measured_along_is_off() -> None:
    """A front 30 mm too long whose waist lies 12 mm off: no mend for the line before the seam's.

    Moved by what is told then, the line would be as much too far as the seam is off.
    """
    p = outfit()
    back = p.piece("back")
    lower = tuple(
        replace(lv, at=lv.at + back.up * -12.0) if lv.name == "waist" else lv for lv in back.levels
    )
    p = p.with_piece(replace(back, levels=lower))
    both = longer(p, "front", 10.0, 30.0)
    (off,) = (f for f in levels_across(both, DEFAULTS) if f.where.seam == "side")
    assert off.measured == pytest.approx(12.0, abs=0.05)
    assert off.mends == ()
    assert 'Mend the length of seam "side" first' in say(off.words, Unit.cm)
    (alone,) = (f for f in levels_across(p, DEFAULTS) if f.where.seam == "side")
    assert "first" not in say(alone.words, Unit.cm)
    moved = {(m.change, m.params["piece"]) for m in alone.mends}
    assert moved == {("match-level", "front"), ("match-level", "back")}


@pytest.mark.parametrize("ease", [0.0, 12.0])
def test_a_line_is_moved_by_what_is_told(ease: float) -> None:
    """With 12 mm eased in on the front, a waist 24 mm below the back's is 12 too many: those.

    Figure and mend are measured from the same end of the seam.
    """
    p = longer(outfit(), "front", 60.0, ease)
    front = p.piece("front")
    lower = tuple(
        replace(lv, at=lv.at - front.up * 12.0) if lv.name == "waist" else lv for lv in front.levels
    )
    p = p.with_piece(replace(front, levels=lower))
    on_a = any(r.piece == "front" for r in p.seam("side").a)
    eased = replace(p.seam("side"), ease=-ease if on_a else ease)
    p = replace(p, seams=tuple(eased if s.name == "side" else s for s in p.seams))
    (off,) = (f for f in levels_across(p, DEFAULTS) if f.where.seam == "side")
    assert off.measured == pytest.approx(12.0, abs=0.05)
    mend = next(m for m in off.mends if m.params["how"] == "line")
    params = read_params(CHANGE.params, mend.params, unit=Unit.cm, where="")
    after = CHANGE.apply(p, params).pattern
    ((was, now),) = (
        (lv.at, after.piece(name).level(lv.name).at)
        for name in ("front", "back")
        for lv in p.piece(name).levels
        if not lv.at.is_near(after.piece(name).level(lv.name).at, 0.01)
    )
    assert was.distance(now) == pytest.approx(off.measured, abs=0.1)


@pytest.mark.parametrize("change", ["rotate-dart", "dart-to-seam"])
def test_a_dart_that_shapes_a_level_may_be_turned_away_or_cut_into_a_seam(change: str) -> None:
    """The bust dart of a coat points to its bust line: sewn, the garment stays as it was."""
    p, settings = GARMENTS["lined coat"](), settings_of("lined coat")
    given = {"dart": "coat front.bust dart", "to": "coat front.shoulder", "at": 60.0}
    it = change_of(change)
    after = it.apply(p, read_params(it.params, given, unit=Unit.mm, where="test")).pattern
    assert [f for f in levels_across(after, settings) if f.where.point == "bust"] == []


def test_two_darts_become_a_seam_and_the_level_beside_them_meets_as_before() -> None:
    """The bust line ran above the side's dart, on what is the upper piece now.

    Nothing was sewn otherwise than before; the lower piece has no bust line.
    """
    p, it = GARMENTS["wrap dress"](), change_of("dart-to-seam")
    given = {"dart": "bodice front.waist dart", "other": "bodice front.bust dart"}
    after = it.apply(p, read_params(it.params, given, unit=Unit.mm, where="test")).pattern
    assert list(levels_across(after, settings_of("wrap dress"))) == []
