"""Draw edges of a piece in, all by one depth: those beside them are cut off there. mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Dart, Edge, Join, Piece, Role
from clothwright.words import Said, edge_name


def drawn_in(piece: Piece, edges: Sequence[str], depth: float, *, what: Said, less: str) -> Piece:
    """Return a piece with some edges at the parallel of their own, `depth` mm inside.

    Notches stay beside where they were; darts of the edges beside keep their places. what: what
    cannot be done otherwise; less: what can. Raises CannotDo where a dart opens in one of the edges
    or nothing would be left.
    """
    for name in edges:
        if piece.darts_on(name):
            raise CannotDo(
                what=what,
                why=f'the dart "{piece.darts_on(name)[0].name}" opens in '
                f"{edge_name(piece.name, name)}",
                nearest="to move the dart to another edge first",
            )
    probe = replace(
        piece,
        edges=tuple(
            replace(e, allowance=-depth if e.name in edges else 0.0, join=Join.EXTENDED)
            for e in piece.edges
        ),
        darts=(),
    )
    drawn = {e.name: e.path for e in cutting_line(probe).edges}
    try:
        made = (_redrawn(e, drawn[e.name], whole=e.name in edges) for e in piece.edges)
        new = replace(piece, edges=tuple(made))
    except BadInput:  # the outline is turned inside out
        raise CannotDo(
            what=what, why=f"nothing would be left of {piece.name}", nearest=less
        ) from None
    new = replace(new, darts=tuple(_dart(piece, drawn, d) for d in piece.darts))
    refuse_crossing(new, what, less)
    return new


def used_as(piece: Piece, name: str, role: Role, allowance: float) -> Piece:
    """Return a piece with an edge in another role, with this allowance (mm), corners plain."""
    _, after = piece.neighbours(name)
    edges = (
        replace(e, role=role, allowance=allowance, join=Join.EXTENDED)
        if e.name == name
        else (replace(e, join=Join.EXTENDED) if e.name == after.name else e)
        for e in piece.edges
    )
    return replace(piece, edges=tuple(edges))


def _cut_off(old: Path, new: Path) -> float:
    """Return how much of an edge's start is cut off, mm; 0 where it was drawn anew as a whole."""
    at, away = old.nearest(new.start)
    return at if away < 1.0 else 0.0


def _redrawn(edge: Edge, path: Path, *, whole: bool) -> Edge:
    """Return an edge on its new line, drawn anew as a whole or only cut off at its ends.

    Raises BadInput where that runs back or is no line.
    """
    if path.length < JOIN_MM or (path.end - path.start).dot(edge.path.end - edge.path.start) <= 0:
        raise BadInput(what=f"nothing would be left of {edge.name}")
    off = _cut_off(edge.path, path)

    def now(at: float) -> float:
        return path.nearest(edge.path.point_at(at))[0] if whole else at - off

    notches = tuple(
        replace(n, at=now(n.at))
        for n in edge.notches
        if JOIN_MM < now(n.at) < path.length - JOIN_MM
    )
    return replace(edge, path=path, notches=notches)


def _dart(piece: Piece, drawn: dict[str, Path], dart: Dart) -> Dart:
    off = _cut_off(piece.edge(dart.edge).path, drawn[dart.edge])
    return replace(dart, a=dart.a - off, b=dart.b - off)
