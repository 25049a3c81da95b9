"""Put a band on edges: cut off as much as it is deep, and sew it on as pieces of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.changes.bands import (
    FREE,
    SEWN,
    AppliedBand,
    end_name,
    on_curve,
    seams_of_bands,
    trail_of,
)
from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.drawn_in import drawn_in, used_as
from clothwright.errors import BadInput
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.rise import beside
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class ApplyBand:
    """Parameters of `apply-band`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "two of one piece that meet in a corner are mitred there", label="On which edges"
    )
    depth: float = param("length", "finished, from its seam to its edge", label="How deep")
    allowance: float = param(
        "length", "all round it, and on the piece", default=15.875, label="Its allowance"
    )


def apply(pattern: Pattern, params: ApplyBand) -> Outcome:
    """Shorten each piece by just the depth of the band, and add the band as a piece, sewn on.

    A band on a straight edge has the very shape of what is cut off: its ends follow the edges
    beside it, and at a corner of two such edges they are mitred. On a curve it is a straight strip
    as long as its seam: what its free edge lacks, the depth times the angle of the curve, is told.
    Where a fold ends the edge, the band is cut on the fold. Bands of pieces that are sewn together
    are joined there, too. What names the edge names the band's free edge from now on; the piece's
    own has another name.

    Raises BadInput for unknown names or no depth, CannotDo where a dart opens in the edge or what
    is cut off is more than there is.
    """
    if params.depth <= 0.0 or params.allowance < 0.0:
        raise BadInput(what="the band has no depth, or less than no allowance", expected="a depth")
    chosen: dict[str, list[str]] = {}
    for text in dict.fromkeys(params.edges):
        ref = parse_edge(text)
        pattern.edge(ref)
        chosen.setdefault(ref.piece, []).append(ref.edge)
    if not chosen:
        raise BadInput(what="no edge is named for the band", expected="one edge or more")
    made: list[AppliedBand] = []
    pieces = {p.name: p for p in pattern.pieces}
    for name, edges in chosen.items():
        old = pattern.piece(name)
        new = _shortened(old, edges, params)
        pieces[name] = new
        for edge in edges:
            band = _band(tuple(pieces), old, new.edges[old.index(edge)], old.edge(edge), params)
            made.append(band)
            pieces[band.piece.name] = band.piece
    return Outcome(
        pattern=replace(
            pattern, pieces=tuple(pieces.values()), seams=tuple(seams_of_bands(pattern, made))
        ),
        said=_said(made, params),
        trail=trail_of(made),
    )


# --- what is left of the piece --------------------------------------------------------------------


def _shortened(piece: Piece, edges: Sequence[str], params: ApplyBand) -> Piece:
    """Return a piece with edges drawn in by the band's depth, those beside them cut off there."""
    what = f"{piece.name} cannot be shortened by the band"
    new = drawn_in(piece, edges, params.depth, what=what, less="a band that is less deep")
    for name in edges:
        new = used_as(new, name, Role.SEAM, params.allowance)
    own = tuple(e.name for e in piece.edges)
    made = (
        replace(e, name=free_name(own, f"{e.name} seam")) if e.name in edges else e
        for e in new.edges
    )
    return replace(new, edges=tuple(made))


# --- the band -------------------------------------------------------------------------------------


def _band(
    taken: tuple[str, ...], old: Piece, new: Edge, edge: Edge, params: ApplyBand
) -> AppliedBand:
    """Return the band for an edge: what was cut off of a straight one, a strip for a curve.

    taken: names of pieces. new: the piece's edge as it is drawn now.
    """
    outer, inner, theta_deg = edge.path, new.path, 0.0
    if not outer.is_straight:
        theta_deg = turn_between_deg(outer.start_tangent, outer.end_tangent)
        outer = _strip(outer, inner.length)
        inner = _offset(outer, params.depth)
    after, before = beside(old, edge, "end"), beside(old, edge, "start")
    names = (end_name(after.name), end_name(before.name))
    lines = (
        (FREE, outer, Role.HEM),
        (names[0], polyline((outer.end, inner.end)), _end_role(after)),
        (SEWN, inner.reversed(), Role.SEAM),
        (names[1], polyline((inner.start, outer.start)), _end_role(before)),
    )
    edges = tuple(
        Edge(
            name=name,
            path=path,
            role=role,
            allowance=0.0 if role is Role.FOLD else params.allowance,
        )
        for name, path, role in lines
    )
    on_fold = any(e.role is Role.FOLD for e in edges)
    piece = Piece(
        name=free_name(taken, f"{old.name} {edge.name} band"),
        edges=edges,
        grain=_grain(outer, inner),
        cuts=tuple(_cut(c, on_fold) for c in old.cuts),
    )
    return AppliedBand(
        piece=piece,
        of=old,
        edge=edge,
        sewn_to=new.name,
        after=after,
        before=before,
        theta_deg=theta_deg,
    )


def _end_role(edge: Edge) -> Role:
    return Role.FOLD if edge.role is Role.FOLD else Role.SEAM


def _strip(path: Path, length: float) -> Path:
    """Return a straight line of this length (mm) where a curve's ends are, about their middle."""
    along, middle = (path.end - path.start).unit, path.start.lerp(path.end, 0.5)
    return polyline((middle - along * (length / 2), middle + along * (length / 2)))


def _offset(line: Path, by: float) -> Path:
    inward = (line.end - line.start).unit.perp * by
    return polyline((line.start + inward, line.end + inward))


def _grain(outer: Path, inner: Path) -> Grain:
    """Return the arrow from the band's free edge to its seam: up, as the band is worn."""
    up = (outer.end - outer.start).unit.perp
    foot = outer.point_at(outer.length / 2)
    deep = up.dot(inner.point_at(inner.length / 2) - foot)
    return Grain(start=foot + up * (0.2 * deep), end=foot + up * (0.8 * deep))


def _cut(cut: Cut, on_fold: bool) -> Cut:
    return replace(cut, how="pair") if cut.how == "fold" and not on_fold else cut


# --- the record -----------------------------------------------------------------------------------


def _said(made: Sequence[AppliedBand], params: ApplyBand) -> Sentence:
    where = listed([edge_name(b.of.name, b.edge.name) for b in made])
    out: list[str | float] = ["Put a band ", params.depth, f" deep on {where}"]
    for band in made:
        long, deep = band.cut_size
        fold = " on the fold" if band.piece.fold is not None else ""
        out += [f"; {band.piece.name} is cut ", long, f"{fold} by ", deep]
        out += on_curve(band, params.depth)
    return (*out, ".")


CHANGE = Change(
    id="apply-band",
    title="Put a band on an edge",
    topic="facings, linings and bands",
    why="A printed border runs straight and a hem may not: cut off and sewn on as a band, with "
    "mitred corners, it follows the edge. The piece is shorter by just what the band is deep.",
    source="docs/sources.md: applied bands (plane geometry; common practice)",
    params=ApplyBand,
    apply=apply,
)
