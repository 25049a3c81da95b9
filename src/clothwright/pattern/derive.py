"""The other way round: a bought outline that includes the allowance; derive the stitching line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.errors import CannotDo
from clothwright.geometry.area import polygon_area
from clothwright.geometry.intersect import crossings
from clothwright.geometry.offset import parallel, trim_or_extend
from clothwright.geometry.path import Path
from clothwright.geometry.region import is_simple
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Dart, Edge, Notch, Piece, Role


def stitching_edges(edges: Sequence[Edge], name: str = "") -> tuple[Edge, ...]:
    """Return edges on the stitching line from edges whose paths lie on the cutting line.

    edges: closed counter-clockwise chain on the cutting line, each with the allowance (mm) that
    the outline includes. Notches stay where the perpendicular from the cutting line meets the
    stitching line. Corners are found by running both stitching lines on until they meet, so joins
    that the maker of the pattern shaped (squared, folded back) need not be known.
    Raises CannotDo when an allowance is too wide for the piece.
    """
    inner = [parallel(e.path, -e.allowance) for e in edges]
    for i in range(len(edges)):
        inner[i - 1], inner[i] = trim_or_extend(inner[i - 1], inner[i])
    out = []
    for edge, path in zip(edges, inner, strict=True):
        if path.length < 0.5 or (path.end - path.start).dot(edge.path.end - edge.path.start) < 0:
            raise CannotDo(
                what=f'edge "{edge.name}" of "{name}" has no stitching line',
                why=("an allowance of ", edge.allowance, " leaves nothing of it"),
                nearest="a smaller allowance, or an outline without allowance",
            )
        notches = tuple(_inward(edge, path, n) for n in edge.notches)
        out.append(replace(edge, path=path, notches=notches))
    ring = [p for e in out for p in e.path.flatten(0.1)[:-1]]
    if not is_simple(ring) or polygon_area(ring) <= 0:
        raise CannotDo(
            what=f'"{name}" has no stitching line inside its outline',
            why="its allowances meet or cross in the middle and leave nothing of it",
            nearest="a smaller allowance, or an outline without allowance",
        )
    return tuple(out)


def _inward(edge: Edge, path: Path, notch: Notch) -> Notch:
    point = edge.path.point_at(notch.at)
    inward = edge.path.tangent_at(notch.at).perp
    return replace(notch, at=path.nearest(point + inward * edge.allowance)[0])


def piece_from_cutting(
    name: str, edges: Sequence[Edge], darts: Sequence[Dart] = (), **rest: object
) -> Piece:
    """Return a piece from an outline that includes its allowance.

    Dart legs are given where they meet the cutting line (a, b in mm along its edge) and are moved
    to where the same legs cross the stitching line. Fold edges take no allowance.
    Raises CannotDo or BadInput.
    """
    flat = [replace(e, allowance=0.0) if e.role is Role.FOLD else e for e in edges]
    inner = stitching_edges(flat, name)
    by_name = {e.name: (e, i) for e, i in zip(flat, inner, strict=True)}
    moved = tuple(
        replace(
            d,
            a=_leg_on(by_name[d.edge][1].path, by_name[d.edge][0].path.point_at(d.a), d.point),
            b=_leg_on(by_name[d.edge][1].path, by_name[d.edge][0].path.point_at(d.b), d.point),
        )
        for d in darts
    )
    return Piece(name=name, edges=inner, darts=moved, **rest)  # type: ignore[arg-type]


def _leg_on(path: Path, outer: Vec, point: Vec) -> float:
    found = crossings(Path((Line(outer, point),)), path)
    return min(found, key=lambda c: c.at_a).at_b if found else path.nearest(outer)[0]
