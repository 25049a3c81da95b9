"""Crop pieces at a length measured from the high point of the shoulder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.hemline import new_hem
from clothwright.changes.partners import partners
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, listed, seam_name

ROUNDS = 20
"""How often a crop is measured again until a side is as long as it has to be; 3 do as a rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Crop:
    """Parameters of `crop`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges",
        "the edges to replace, such as the hems of front and back; one for each piece",
        label="Which edges",
    )
    length: float = param(
        "length",
        "straight down along the grain",
        label="The new length",
    )
    point: str = param(
        "point of each",
        "the point to measure from, under the same name on each piece: the high point of the "
        "shoulder, where the shoulder seam meets the neck",
        default="neck point",
        label="Measured from which point",
    )
    allowance: float | None = param(
        "length",
        "left out: as it was",
        default=None,
        label="Allowance below it",
    )


def apply(pattern: Pattern, params: Crop) -> Outcome:
    """Cut each piece off at `length` mm below the point, straight and square to the grain.

    The new edge takes over the old one's name, role and allowance, so that the new cutting line
    lies exactly the allowance below the new stitching line. Edges beside it are cut off there (or
    run on straight, when the piece becomes longer); their notches stay where they are on the
    cloth. A dart that opens at the old edge is closed, cut through and opened again. What lies
    wholly below is left out, and the sentence says what. Where the point is the corner at which a
    side seam of two of the pieces begins, that seam's two sides are cut alike, and only the first
    piece is measured straight down.

    Raises CannotDo when the line would cut through a dart of another edge or cut an edge off
    altogether; BadInput for unknown names and a length or allowance below nothing.
    Source: docs/sources.md, cropping from the high point of the shoulder.
    """
    if params.length <= 0:
        raise BadInput(what="the length is nothing or less", expected="a length above nothing")
    if params.allowance is not None and params.allowance < 0:
        raise BadInput(what="the allowance is less than nothing", expected="0 or more")
    changed = pattern
    refs = [parse_edge(text) for text in params.edges]
    done: list[Cropped] = []
    along: dict[str, None] = {}
    for n, ref in enumerate(refs):
        piece = pattern.piece(ref.piece)
        found = _cropped(piece, ref.edge, params)
        for side in _begun_there(pattern, changed, refs[:n], ref, params.point):
            found = _to_length(piece, ref.edge, params, side)
            along[seam_name(side.seam)] = None
        changed = changed.with_piece(found.piece)
        done.append(found)
    ends = f" Both sides of {listed(list(along))} are cut alike." if along else ""
    return Outcome(pattern=changed, said=(*_said(params, done), ends, *partners(pattern, changed)))


class Cropped(NamedTuple):
    """A cropped piece, what was cut off with the rest, and by how many mm it is shorter."""

    piece: Piece
    gone: tuple[str, ...]
    shorter: float


class CutSide(NamedTuple):
    """A seam, the edge of a piece that is sewn in it, and how long (mm) that has to be."""

    seam: str
    edge: str
    long: float


def _begun_there(
    before: Pattern, cropped: Pattern, others: list[EdgeRef], ref: EdgeRef, point: str
) -> Iterator[CutSide]:
    """Yield the edges that run from the point to the hem, sewn to such an edge of a cropped piece.

    Two sides that begin at one corner are measured along their seam: each is as much longer or
    shorter than the other as it was.
    """
    hems = {r.piece: r.edge for r in others}
    piece = before.piece(ref.piece)
    for seam in (s for s in before.seams if s.kind == "plain" and len(s.a) == len(s.b) == 1):
        for own, other in ((seam.a[0], seam.b[0]), (seam.b[0], seam.a[0])):
            if own.piece != piece.name or other.piece not in hems:
                continue
            there = before.piece(other.piece)
            if _runs_from(piece, own.edge, ref.edge, point) and _runs_from(
                there, other.edge, hems[there.name], point
            ):
                more = net_length(piece, own.edge) - net_length(there, other.edge)
                now = net_length(cropped.piece(there.name), other.edge)
                yield CutSide(seam.name, own.edge, now + more)


def _runs_from(piece: Piece, edge: str, hem: str, point: str) -> bool:
    """Tell whether an edge runs from a point to a hem beside it."""
    beside = {e.name for e in piece.neighbours(hem)}
    return edge in beside and any(
        end.is_near(piece.point(point), JOIN_MM) for end in piece.edge(edge).path.ends
    )


def _to_length(piece: Piece, hem: str, params: Crop, side: CutSide) -> Cropped:
    """Crop a piece where its side is as long as wanted; it runs nearly straight down there."""
    at = params.length
    found = _cropped(piece, hem, params)
    for _ in range(ROUNDS):
        off = net_length(found.piece, side.edge) - side.long
        if abs(off) < JOIN_MM:
            break
        at -= off
        found = _cropped(piece, hem, replace(params, length=at))
    return found


def _cropped(piece: Piece, name: str, params: Crop) -> Cropped:
    edge = piece.edge(name)
    top = piece.point(params.point)
    down = -piece.up
    p = top + down * params.length
    old = max(down.dot(q - top) for q in edge.path.flatten())
    if old <= 0:
        raise CannotDo(
            what=f'"{piece.name}" cannot be cropped at its edge "{name}"',
            why=f'"{params.point}" does not lie above that edge',
            nearest="a point above the edge, or another edge",
        )
    what = (f'"{piece.name}" cannot be cropped ', params.length, f' below "{params.point}"')
    out, gone = new_hem(piece, name, p, what)
    if params.allowance is not None:
        out = out.with_edge(replace(out.edge(name), allowance=params.allowance))
    return Cropped(out, gone, old - params.length)


def _said(params: Crop, done: list[Cropped]) -> Sentence:
    said: list[str | float] = [f"Cropped {listed([c.piece.name for c in done])} to ", params.length]
    said.append(f" from the {params.point}")
    for piece, _, shorter in done:
        said += [f"; {piece.name} is ", abs(shorter), " shorter" if shorter >= 0 else " longer"]
    if params.allowance is not None:
        said += ["; allowance ", params.allowance]
    gone = [name for c in done for name in c.gone]
    if gone:
        said.append("; cut off with the rest: " + ", ".join(gone))
    said.append(".")
    return tuple(said)


CHANGE = Change(
    id="crop",
    title="Crop to a length from the high point of the shoulder",
    topic="lengths",
    why="A shorter body is measured from where shoulder seam and neck meet, straight down, alike "
    "at front and back, so that the new hem is level.",
    source="docs/sources.md: cropping a bodice; body length from the high point of the shoulder",
    params=Crop,
    apply=apply,
)
