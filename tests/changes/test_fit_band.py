"""A band fitted to its seam: each part from notch to notch as long as what it is sewn to."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from clothwright.changes.fit_band import FitBand, apply
from clothwright.changes.let_out import LetOut
from clothwright.changes.let_out import apply as let_out
from clothwright.errors import CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.contract.changes_table import shirt_with_lower_neck
from tests.garments.wardrobe import GARMENTS


def off(pattern: Pattern, seam: str) -> list[float]:
    """Return by how much each part of a seam is off, mm."""
    return [s.off for s in walk_seam(pattern, pattern.seam(seam)).sections]


def taken_in() -> Pattern:
    """Return the trousers with their waist 2 cm smaller at the side seams, the band as it was."""
    how = LetOut(edges=("front.side", "back.side"), by=-20.0, level="hip", full="up")
    return let_out(GARMENTS["trousers"](), how).pattern


def parts_of(piece: Piece, edge: str) -> list[float]:
    """Return the distances between the notches of an edge, mm."""
    at = [0.0, *(n.at for n in piece.edge(edge).notches), piece.edge(edge).length]
    return [b - a for a, b in pairwise(at)]


def test_a_waistband_gives_where_the_waist_was_taken_in() -> None:
    """By hand: 2 cm all round in four equal shares of 5 mm, one in each part beside a side seam."""
    before = taken_in()
    done = apply(before, FitBand(seam="waist"))
    old, new = before.piece("waistband"), done.pattern.piece("waistband")
    assert off(done.pattern, "waist") == pytest.approx([0.0] * len(off(before, "waist")), abs=1e-3)
    assert sum(off(before, "waist")) == pytest.approx(20.0, abs=0.5)
    by = [b - a for a, b in zip(parts_of(old, "lower"), parts_of(new, "lower"), strict=True)]
    assert by == pytest.approx([-o for o in off(before, "waist")], abs=1e-3)
    low, high = new.outline.bounds()
    was = old.outline.bounds()
    assert high.y - low.y == pytest.approx(was[1].y - was[0].y)
    assert (high.x - low.x) - (was[1].x - was[0].x) == pytest.approx(sum(by))
    assert "Fitted waistband" in say(done.said, Unit.cm)
    again = apply(done.pattern, FitBand(seam="waist"))
    assert again.pattern == done.pattern
    assert "Left waistband" in say(again.said, Unit.inch)


def test_a_curved_stand_and_its_collar_follow_a_lower_neck() -> None:
    """Each part of the stand is as long as its part of the neck; the collar's ends are as drawn."""
    before = shirt_with_lower_neck()
    assert min(off(before, "neck")) < -10.0
    done = apply(before, FitBand(seam="neck", other="collar")).pattern
    for seam in ("neck", "collar"):
        assert off(done, seam) == pytest.approx([0.0] * len(off(done, seam)), abs=0.01)
    for piece, edges in (("collar stand", ("centre", "round end")), ("collar", ("centre", "end"))):
        for edge in edges:
            old, new = (p.piece(piece).edge(edge) for p in (before, done))
            assert new.length == pytest.approx(old.length, abs=1e-6)
    leaf = done.piece("collar")
    turns = [  # a curve goes on at every place where a part ends
        a.tangent(1.0).cross(b.tangent(0.0))
        for e in leaf.edges
        for a, b in pairwise(e.path.segments)
    ]
    assert max(map(abs, turns)) < 0.02


def test_what_is_marked_on_a_band_goes_along() -> None:
    """A buttonhole 12 mm long stays so; a line marked along all of the band stays as long as it."""
    before = taken_in()
    band = before.piece("waistband")
    low, high = band.outline.bounds()
    mid = (low.y + high.y) / 2
    line = polyline((Vec(low.x, mid), Vec(high.x, mid)))
    x = (low.x + high.x) / 2
    hole = polyline((Vec(x, mid + 5.0), Vec(x + 12.0, mid + 5.0)))
    marks = (Mark(name="fold line", path=line), Mark(name="buttonhole", path=hole))
    marked = before.with_piece(replace(band, marks=marks))
    new = apply(marked, FitBand(seam="waist")).pattern.piece("waistband")
    fold, button = (m.path for m in new.marks)
    first, last = new.outline.bounds()
    assert fold is not None
    assert fold.length == pytest.approx(last.x - first.x)
    assert button is not None
    assert button.length == pytest.approx(12.0)


def test_a_part_that_would_be_used_up_is_refused() -> None:
    """A part of 18 cm that is meant to be 20 cm shorter than its waist is a mistake in the seam."""
    pattern = GARMENTS["trousers"]()
    seam = replace(pattern.seam("waist"), ease=-200.0, ease_from="side waist", ease_to="back waist")
    with pytest.raises(CannotDo, match="nothing would be left"):
        apply(pattern.with_seam(seam), FitBand(seam="waist"))


def test_of_two_bands_the_one_that_is_named_gives() -> None:
    """A collar 10 mm too short for its stand: made longer, or the stand shorter."""
    right = GARMENTS["shirt"]()
    longer = right.with_seam(replace(right.seam("collar"), ease=10.0))
    for piece, kept in (
        ("collar", "collar stand"),
        ("collar stand", "collar"),
        ("", "collar stand"),
    ):
        done = apply(longer, FitBand(seam="collar", piece=piece)).pattern
        assert off(done, "collar") == pytest.approx([0.0], abs=0.01)
        assert done.piece(kept) == longer.piece(kept)
    with pytest.raises(CannotDo, match="no band"):
        apply(longer, FitBand(seam="collar", piece="sleeve"))
