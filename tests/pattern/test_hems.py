"""A curved hem turned up: against an extension service's hem table and plane geometry."""

from __future__ import annotations

import math

import pytest
from tests.specimens import edge, line

from clothwright.geometry.fit import arc
from clothwright.geometry.vec import Vec
from clothwright.pattern.hems import deepest, turned_up
from clothwright.pattern.piece import Join, Piece, Role


def gore(girth: float, turn: float, parts: int, tall: float = 500.0) -> Piece:
    """One of `parts` equal gores of a skirt whose hem line turns by `turn` radians in all, mm."""
    r, share = girth / turn, math.degrees(turn / parts)
    low = arc((0, 0), r, -90 - share / 2, share)
    top = arc((0, 0), r - tall, -90 + share / 2, -share)
    return Piece(
        name="gore",
        edges=(
            edge("hem", low, role=Role.HEM, allowance=50.0, join=Join.FOLDED),
            edge("right", line(low.end, top.start), join=Join.FOLDED),
            edge("top", top),
            edge("left", line(top.end, low.start)),
        ),
    )


@pytest.mark.parametrize(
    ("girth", "turn", "excess", "depths"),
    [
        (1200.0, 0.364, 36.0, (49.0, 80.0, 127.0)),
        (1400.0, 0.727, 73.0, (28.0, 47.0, 74.0)),
        (2 * math.pi * 800, 2 * math.pi, 628.0, (12.0, 20.0, 31.0)),
        (2 * math.pi * 600, 2 * math.pi, 628.0, (9.0, 15.0, 23.0)),
    ],
)
def test_the_table_of_flared_hems(
    girth: float, turn: float, excess: float, depths: tuple[float, float, float]
) -> None:
    """Excess at 5 cm and depths at 3, 5 and 8 %: derived table of flared hems (Texas L-359)."""
    parts = 8
    piece = gore(girth, turn, parts, tall=300.0)
    assert parts * turned_up(piece, "hem", 50.0).excess == pytest.approx(excess, abs=0.6)
    for share, depth in zip((0.03, 0.05, 0.08), depths, strict=True):
        assert deepest(piece, "hem", share) == pytest.approx(depth, abs=0.6)
        assert turned_up(piece, "hem", deepest(piece, "hem", share)).share == pytest.approx(
            share, rel=0.01
        )


@pytest.mark.parametrize(("girth", "ease"), [(60.0, 0.069), (65.0, 0.080), (70.0, 0.090)])
def test_two_inches_on_a_gored_skirt(girth: float, ease: float) -> None:
    """2 in on a 60 to 70 in skirt, hip 40 in 20 in above, needs 6.9 to 9 % (Texas L-359, W76)."""
    inch = 25.4
    piece = gore(girth * inch, (girth - 40) / 20, 6, tall=10 * inch)
    assert turned_up(piece, "hem", 2 * inch).share == pytest.approx(ease, abs=0.0006)


@pytest.mark.parametrize("join", [Join.FOLDED, Join.EXTENDED])
def test_a_straight_hem_between_slanting_sides(join: Join) -> None:
    """Mirrored sides make it as wide as what it lies on; run on, each adds twice its slant."""
    slope, depth = 0.25, 40.0
    low, high = Vec(300, 0), Vec(300 - 400 * slope, 400)
    piece = Piece(
        name="panel",
        edges=(
            edge("hem", line((0, 0), low), role=Role.HEM, join=join),
            edge("side", line(low, high), join=join),
            edge("top", line(high, (0, 400))),
            edge("centre", line((0, 400), (0, 0)), role=Role.CENTRE),
        ),
    )
    added = 0.0 if join is Join.FOLDED else 2 * slope * depth
    assert turned_up(piece, "hem", depth).excess == pytest.approx(added, abs=1e-6)
    assert turned_up(piece, "hem", 0.0).share == 0.0
