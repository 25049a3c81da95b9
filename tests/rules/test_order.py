"""The usual order of placing rules is that of handbooks (docs/sources.md, which seams first)."""

from __future__ import annotations

from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.order import importance


def _meet(a, b, at):
    return Meets(piece_a=a, point_a=at, piece_b=b, point_b=at)


ORDER = (
    OnBorder(piece="skirt front", edge="hem", border="scroll"),
    AtPhase(piece="front", point="centre front", across=0.0),
    AtPhase(piece="back", point="centre back", across=0.0),
    _meet("front", "back", "side hem"),
    _meet("sleeve", "front", "cap notch"),
    _meet("collar", "back", "centre back collar"),
    _meet("front", "back", "shoulder neck"),
    _meet("pocket", "front", "upper corner"),
    _meet("sleeve", "back", "cap notch"),
    OneWay(),
)


def test_centre_front_comes_before_side_and_side_before_sleeve():
    """Each of them counts sooner than the next one of the handbooks' list."""
    found = [importance(rule) for rule in ORDER]
    assert found == sorted(set(found))
