"""Trousers with slant pockets: the front without its corner, the piece under it that has it."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.curves import spline, straight
from clothwright.demo.draft import cuts, grain, seam, seam_edge
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from tests.garments.trousers import trousers as whole_trousers

WIDE, DEEP = 38.0, 150.0
"""mm of waist and of side that the pocket's mouth cuts off."""


def trousers(lower: float = 0.0) -> Pattern:
    """Return the garment. lower: mm by which the under piece dips where the front begins."""
    pattern = whole_trousers()
    front = pattern.piece("front")
    below, side = front.edge("side").path.split_at(front.edge("side").length - DEEP)
    waist, inner = front.edge("waist").path.split_at(WIDE)
    mouth = Edge(name="mouth", path=straight(below.end, inner.start), role=Role.RAW,
                 corner="pocket end")  # fmt: skip
    edges: list[Edge] = []
    for e in front.edges:
        if e.name == "side":
            notches = tuple(n for n in e.notches if n.at < below.length)
            edges += [replace(e, path=below, notches=notches), mouth]
        else:
            edges.append(replace(e, path=inner, corner="pocket top") if e.name == "waist" else e)
    darts = tuple(replace(d, a=d.a - WIDE, b=d.b - WIDE) for d in front.darts)
    way = waist.start_tangent.angle_deg
    low = spline((waist.start, waist.end + Vec(0.0, -lower)), way, way) if lower else waist
    under = Piece(
        name="pocket back",
        edges=(
            seam_edge("side", side, "pocket end"),
            seam_edge("waist out", low, "side waist"),
            Edge(name="inside", path=straight(low.end, side.start), role=Role.RAW),
        ),
        grain=grain(low.end.x + 20.0, low.end.y - 40.0, low.end.y - 10.0),
        cuts=cuts("pair", "shell"),
    )
    pieces = (*(replace(p, edges=tuple(edges), darts=darts) if p is front else p
                for p in pattern.pieces), under)  # fmt: skip
    half = ("front.waist reversed", "pocket back.waist out reversed", "back.waist reversed")
    other = ("back.waist", "pocket back.waist out", "front.waist")
    sewn = {
        "side": seam("side", ("front.side", "pocket back.side"), "back.side reversed"),
        "waist": seam("waist", (*half, *other), "waistband.lower"),
    }
    return replace(
        pattern, pieces=pieces, seams=tuple(sewn.get(s.name, s) for s in pattern.seams),
        companions=(),
    )  # fmt: skip
