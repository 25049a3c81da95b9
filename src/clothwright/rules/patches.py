"""Patches: pieces that are sewn flat on another, where a line marked on it shows their outline."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Mark, Piece
from clothwright.rules.offers import Choice, Outfit
from clothwright.words import edge_name

NEAR_MM = 1.0
"""mm: a patch lies where a line is marked when its corners come so near to the line."""


def patches(outfit: Outfit) -> Iterator[Choice]:
    """Yield each patch at each place marked for it, matched both ways, for two-point rules."""
    for onto in outfit.printed:
        for mark in onto.marks:
            for patch in (p for p in outfit.printed if p.name != onto.name):
                corner = placed_by(patch, onto, mark)
                if corner:
                    yield Choice(
                        key=f"{patch.name} on {onto.name}.{mark.name}",
                        words=(f"{patch.name} on {edge_name(onto.name, mark.name)}",),
                        values={
                            "piece_a": patch.name,
                            "point_a": corner,
                            "piece_b": onto.name,
                            "point_b": f"{mark.name} start",
                            "match": "both",
                        },
                    )


def placed_by(patch: Piece, onto: Piece, mark: Mark) -> str:
    """Return the point of a patch that lies on the start of a marked line, "" where none does.

    The patch lies with its grain along the other's, and all its corners on the line.
    """
    if mark.path is None or abs(patch.up.cross(onto.up)) > 1e-3 or patch.up.dot(onto.up) < 0:
        return ""
    corners = {e.corner or f"{e.name} start": e.path.start for e in patch.edges}
    for name, corner in corners.items():
        move: Vec = mark.path.start - corner
        away = (mark.path.nearest(c + move)[1] for c in corners.values())
        if max(away) <= NEAR_MM:
            return name
    return ""
