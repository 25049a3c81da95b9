"""The waist raised over a prominent abdomen, its length kept."""

from __future__ import annotations

from itertools import pairwise

import pytest

from clothwright.changes.abdomen import Abdomen, apply
from clothwright.checks import run_checks
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from tests.garments.wardrobe import GARMENTS

CASES = (("skirt", "skirt front", "centre"), ("trousers", "front", "fly"))


def drafted(garment: str) -> Pattern:
    return coat_and_skirt().bought if garment == "skirt" else GARMENTS[garment]()


def sewn(piece: Piece) -> float:
    """The waist without what its darts take: chords of 0.01 mm, added up apart from our lengths."""
    path, found, at = piece.edge("waist").path, 0.0, 0.0
    for dart in (*piece.darts_on("waist"), None):
        points = path.between(at, dart.a if dart else path.length).flatten(1e-4)
        found += sum(p.distance(q) for p, q in pairwise(points))
        at = dart.b if dart else at
    return found


@pytest.mark.parametrize(("garment", "name", "centre"), CASES)
@pytest.mark.parametrize("by", [25.4, -12.0])
def test_the_waist_stays_as_long(garment: str, name: str, centre: str, by: float) -> None:
    """The centre is just so much longer, the hip and the other pieces are as they were.

    Source: a manual of about 1911 (docs/sources.md, alterations of the body).
    """
    before = drafted(garment)
    after = apply(before, Abdomen(edge=f"{name}.waist", by=by, level="hip")).pattern
    old, new = before.piece(name), after.piece(name)
    assert sewn(new) == pytest.approx(sewn(old), abs=1e-3)
    rise = new.edge(centre).length - old.edge(centre).length
    assert rise == pytest.approx(by, abs=0.1)  # a fly leans a little
    assert new.edge("hem").path == old.edge("hem").path
    assert [d.point for d in new.darts] == [d.point for d in old.darts]
    tops = [max(p.y for p in piece.edge("side").path.ends) for piece in (old, new)]
    assert tops[1] == pytest.approx(tops[0], abs=0.5)


def test_a_raised_waist_stays_fair() -> None:
    """Closed, it bends at no dart; its caps are true: no check finds anything."""
    after = apply(drafted("skirt"), Abdomen(edge="skirt front.waist", by=25.4, level="hip")).pattern
    assert [f.code for f in run_checks(after)] == []
