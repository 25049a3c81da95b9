"""The cutting line where an edge runs on into the hem beside it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from clothwright.demo import DEMOS
from clothwright.geometry.path import polyline
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Edge, Join, Piece, Role


@pytest.mark.parametrize("wide", [40.0, 10.0, 0.0])
def test_an_edge_that_runs_on_into_a_hem(wide: float) -> None:
    """Nothing can be mirrored in a line that the edge lies on: a step, or none; never an error.

    A lower edge cut in two, one part of it a hem of 40 mm: the area of the rectangle with both
    allowances (plane geometry).
    """
    corners = [(0, 0), (100, 0), (200, 0), (200, 300), (0, 300)]
    ends = [*corners[1:], corners[0]]
    sides = [polyline((a, b)) for a, b in zip(corners, ends, strict=True)]
    roles = (Role.HEM, Role.SEAM, Role.SEAM, Role.SEAM, Role.SEAM)
    widths = (40.0, wide, 0.0, 0.0, 0.0)
    edges = tuple(
        Edge(
            name=f"e{k}", path=p, role=r, allowance=w, join=Join.FOLDED if k < 2 else Join.EXTENDED
        )
        for k, (p, r, w) in enumerate(zip(sides, roles, widths, strict=True))
    )
    outline = cutting_line(Piece(name="panel", edges=edges)).outline
    low, high = outline.bounds()
    assert (low.y, high.y) == pytest.approx((-40.0, 300.0))
    points = outline.flatten(0.01)
    area = 0.5 * sum(a.cross(b) for a, b in pairwise(points))
    assert area == pytest.approx(200 * 300 + 100 * 40 + 100 * wide, abs=1.0)


@pytest.mark.parametrize("join", Join)
@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_any_corner_may_be_the_corner_of_a_hem(demo, join: Join) -> None:
    """Every edge of every demo as a hem 5 mm deep, every corner turned every way: a closed line."""
    for piece in demo.make().bought.pieces:
        for k in range(len(piece.edges)):
            for hem in (k - 1, k):
                edges = list(piece.edges)
                edges[k] = replace(edges[k], join=join)
                edges[hem] = replace(edges[hem], role=Role.HEM, allowance=5.0)
                made = cutting_line(replace(piece, edges=tuple(edges))).outline
                assert made.start.distance(made.end) < 0.01
