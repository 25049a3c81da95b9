"""What a change did to lengths and darts, before and after."""

from __future__ import annotations

from clothwright.changes.full_bust import CHANGE, FullBust
from clothwright.pattern.measure import dart_intake
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workroom.changing.figures import figures
from tests.specimens import bodice


def test_a_dart_is_as_wide_as_between_its_legs() -> None:
    """Its cap is longer than the dart is wide: what is told is the width that is sewn."""
    before = bodice()
    after = CHANGE.apply(before, FullBust(piece="front", by=15.0)).pattern
    (now,) = [m for m in figures(before, after, Unit.cm) if m.what.endswith("width")]
    pieces = [p.piece("front") for p in (before, after)]
    wide = [show_length(dart_intake(p, p.dart("bust")), Unit.cm) for p in pieces]
    assert [now.before, now.after] == wide
