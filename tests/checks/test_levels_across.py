"""Levels meet across a seam, whatever is eased, darted or longer elsewhere."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.lengthen import lengthened
from clothwright.checks import DEFAULTS
from clothwright.checks.levels_across import levels_across, meetings
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Level
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit


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
