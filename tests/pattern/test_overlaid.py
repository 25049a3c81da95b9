"""Pieces that lie one on the other run on in one line: steps, however they are drawn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.faults import slant_pocket
from tests.faults.mistakes import on
from tests.faults.paper import cornered, let_out
from tests.faults.test_planted import grain
from tests.garments.wardrobe import GARMENTS

from clothwright.geometry.transform import reflection, rotation_deg, translation
from clothwright.pattern.overlaid import grain_turns, steps
from clothwright.pattern.whole import moved

TURNED = rotation_deg(35.0).then(translation((400.0, -90.0)))


@pytest.mark.parametrize(
    ("spoil", "mm"),
    [
        (on("front", cornered, "waist", 0.0, -8.0), 8.0),
        (on("pocket back", let_out, "side", -10.0), 10.0),
        (on("front", let_out, "side", 10.0), 10.0),
        (lambda p: p, 0.0),
    ],
)
def test_a_step_is_as_large_as_what_was_moved(spoil, mm: float) -> None:  # type: ignore[no-untyped-def]
    """A waist cut 8 mm lower at the pocket, a side 10 mm in or out: so far the lines part."""
    (step,) = steps(spoil(slant_pocket.trousers()))
    assert step.mm == pytest.approx(mm, abs=0.6)


@pytest.mark.parametrize("move", [TURNED, reflection((0, 0), (0, 1)), translation((300.0, 0.0))])
def test_where_and_which_way_up_a_piece_is_drawn_makes_no_step(move) -> None:  # type: ignore[no-untyped-def]
    """Turned, turned over or drawn apart, the under piece is the same (rigid motions)."""
    pattern = slant_pocket.trousers()
    under = moved(pattern.piece("pocket back"), move)
    seams = pattern.seams
    if move.mirrors:
        flip = {"pocket back"}
        seams = tuple(
            replace(s, **{
                side: tuple(replace(r, reversed=r.reversed is not (r.piece in flip))
                            for r in getattr(s, side))
                for side in ("a", "b")
            })
            for s in seams
        )  # fmt: skip
    (step,) = steps(replace(pattern.with_piece(under), seams=seams))
    assert step.mm == pytest.approx(0.0, abs=0.01)


def test_pieces_that_a_seam_joins_are_left_to_it() -> None:
    """Front and back meet at armhole and hem, but a side seam holds them."""
    assert not [step for draft in GARMENTS.values() for step in steps(draft())]


@pytest.mark.parametrize("deg", [4.0, -3.0])
def test_a_grain_turned_is_told_as_turned_and_makes_no_step(deg: float) -> None:
    """Turning a grain line moves no outline."""
    pattern = grain("pocket back", deg)(slant_pocket.trousers())
    (turn,) = grain_turns(pattern)
    (step,) = steps(pattern)
    assert turn.deg == pytest.approx(abs(deg), abs=0.01)
    assert step.mm == pytest.approx(0.0, abs=0.01)
