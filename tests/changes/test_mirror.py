"""Turning pieces over."""

from __future__ import annotations

import pytest

from clothwright.changes.mirror import Mirror, apply
from clothwright.pattern.measure import side
from clothwright.pattern.piece import signed_area
from tests.specimens import bodice, sleeve


def test_the_outline_is_turned_about_the_grain() -> None:
    """A point a mm to the right of the grain line lies a mm to the left of it afterwards."""
    old = sleeve().piece("sleeve")
    new = apply(sleeve(), Mirror(pieces=("sleeve",))).pattern.piece("sleeve")
    for name, p in old.points().items():
        if name.split()[-1] in ("start", "end") or "notch" in name:
            continue  # counted from an edge's other end afterwards
        assert new.point(name).is_near((-p.x, p.y), 1e-6), name
    assert signed_area(new) == pytest.approx(signed_area(old))
    assert new.grain == old.grain


def test_seams_go_on_meeting_the_same_ends() -> None:
    """Notches still lie at the same distances along the seam, from the same end."""
    before = bodice()
    after = apply(before, Mirror(pieces=("front",))).pattern
    for old, new in zip(before.seams, after.seams, strict=True):
        for run in ("a", "b"):
            first, second = (side(p, getattr(s, run)) for p, s in ((before, old), (after, new)))
            assert second.length == pytest.approx(first.length, abs=1e-6)
            for m, n in zip(first.stations, second.stations, strict=True):
                assert (m.name, m.kind) == (n.name, n.kind)
                assert m.at == pytest.approx(n.at, abs=1e-6)


def test_pieces_not_named_stay() -> None:
    """Only the named piece is turned over."""
    before = bodice()
    after = apply(before, Mirror(pieces=("front",))).pattern
    assert after.piece("back") is before.piece("back")
