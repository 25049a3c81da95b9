"""Pieces made smaller for a knit."""

from __future__ import annotations

import pytest

from clothwright.changes.knit_reduction import KnitReduction, apply, required_stretch
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.pattern.finding import Severity
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.knit_top import knit_top
from tests.garments.wardrobe import GARMENTS, settings_of


def extent(piece: Piece, across: bool) -> float:
    way = piece.up.perp if across else piece.up
    places = [way.dot(p) for e in piece.edges for p in e.path.flatten(0.001)]
    return max(places) - min(places)


@pytest.mark.parametrize(
    ("body", "finished", "needed"),
    [
        (92.0, 84.64, 0.0870),  # trade facts W71, worked
        (60.0, 48.0, 0.25),  # a chapter on pressure garments: each half 0.4 of the girth
        (57.0, 52.0, 0.0962),  # trade facts W72: a head through a neck opening
    ],
)
def test_required_stretch(body: float, finished: float, needed: float) -> None:
    """Smaller by n needs a stretch of n / (1 - n), which is body / finished - 1."""
    assert required_stretch(1 - finished / body) == pytest.approx(needed, abs=5e-5)


def test_widths_and_lengths_shrink_by_their_shares() -> None:
    """Across by 8 %, along by 3 %; allowances stay; the sentence says what the cloth must do."""
    before = knit_top()
    names = tuple(p.name for p in before.pieces)
    done = apply(before, KnitReduction(pieces=names, across=0.08, along=0.03, stretch=0.3))
    for name in names:
        old, new = before.piece(name), done.pattern.piece(name)
        assert extent(new, across=True) == pytest.approx(0.92 * extent(old, across=True), abs=2e-3)
        assert extent(new, across=False) == pytest.approx(
            0.97 * extent(old, across=False), abs=2e-3
        )
        assert [e.allowance for e in new.edges] == [e.allowance for e in old.edges]
    assert "stretch by 8.7 %" in say(done.said, Unit.cm)


def test_what_is_too_much_for_the_cloth_is_refused() -> None:
    """20 % smaller needs 25 %: a cloth of 24 % may be 19.4 % smaller, and exactly that is done."""
    params = KnitReduction(pieces=("front",), across=0.20, stretch=0.24)
    with pytest.raises(CannotDo, match=r"25 %.*19\.4 %"):
        apply(knit_top(), params)
    apply(knit_top(), KnitReduction(pieces=("front",), across=0.24 / 1.24, stretch=0.24))


def test_a_knit_top_still_sews_together() -> None:
    """With all its pieces alike every seam agrees in length; corners turn by a few degrees."""
    before = knit_top()
    names = tuple(p.name for p in before.pieces)
    after = apply(before, KnitReduction(pieces=names, across=0.08)).pattern
    found = run_checks(after, settings_of("knit top"))
    told = [f for f in found if f.severity in (Severity.FAULT, Severity.NOTICE) and f.where.seam]
    assert {(f.code, f.severity) for f in told} <= {("corner-not-fair", Severity.NOTICE)}
    assert all(f.mend is not None and f.mend.change == "true-seam" for f in told)


def test_a_band_that_was_left_out_is_named_with_its_amount() -> None:
    """The neck is 5 % smaller across, and so much shorter has to be what is sewn to it."""
    params = KnitReduction(pieces=("front", "back", "sleeve"), across=0.05)
    said = say(apply(GARMENTS["knit top"](), params).said, Unit.cm)
    assert "Now make neck band, lower 0.8 cm shorter" in said
