"""Crop pieces at a length measured from the high point of the shoulder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes import own_corners
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

OTHER_MM = 0.5
"""mm: a piece whose length differs by less from the one asked for has that length."""


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
    wholly below is left out, and the sentence says what. Where a seam of two of the pieces runs
    down to the edge, its two sides are cut alike, and only the first piece is measured straight
    down.

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
        for side in _sewn_there(pattern, changed, refs[:n], ref):
            found = _to_length(piece, ref.edge, params, side)
            along[seam_name(side.seam)] = None
        changed = changed.with_piece(found.piece)
        done.append(found)
    changed, trued = own_corners.trued(pattern, changed)
    alike = _said_alike(params, done, list(along))
    said = (*_said(params, done), *alike, *trued, *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


class Cropped(NamedTuple):
    """A cropped piece and what was cut off with the rest.

    shorter, long: mm by which it is shorter, and from its point down to the new edge.
    """

    piece: Piece
    gone: tuple[str, ...]
    shorter: float
    long: float


class CutSide(NamedTuple):
    """A seam, the edge of a piece that is sewn in it, and how long (mm) that has to be."""

    seam: str
    edge: str
    long: float


def _sewn_there(
    before: Pattern, cropped: Pattern, others: list[EdgeRef], ref: EdgeRef
) -> Iterator[CutSide]:
    """Yield the edges that run down to the hem, sewn to such an edge of a cropped piece.

    The sides of a seam stay together: each is as much longer or shorter than the other as it was.
    """
    hems = {r.piece: r.edge for r in others}
    piece = before.piece(ref.piece)
    for seam in (s for s in before.seams if s.kind == "plain" and len(s.a) == len(s.b) == 1):
        for own, other in ((seam.a[0], seam.b[0]), (seam.b[0], seam.a[0])):
            if own.piece != piece.name or other.piece not in hems:
                continue
            there = before.piece(other.piece)
            if _runs_to(piece, own.edge, ref.edge) and _runs_to(
                there, other.edge, hems[there.name]
            ):
                more = net_length(piece, own.edge) - net_length(there, other.edge)
                now = net_length(cropped.piece(there.name), other.edge)
                yield CutSide(seam.name, own.edge, now + more)


def _runs_to(piece: Piece, edge: str, hem: str) -> bool:
    """Tell whether an edge runs down to a hem beside it."""
    return edge in {e.name for e in piece.neighbours(hem)}


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
    return Cropped(out, gone, old - params.length, params.length)


def _said(params: Crop, done: list[Cropped]) -> Sentence:
    said: list[str | float] = [f"Cropped {listed([c.piece.name for c in done])} to ", params.length]
    said.append(f" from the {params.point}")
    for c in done:
        longer = " shorter" if c.shorter >= 0 else " longer"
        said += [f"; {c.piece.name} is ", abs(c.shorter), longer]
    if params.allowance is not None:
        said += ["; allowance ", params.allowance]
    gone = [name for c in done for name in c.gone]
    if gone:
        said.append("; cut off with the rest: " + ", ".join(gone))
    said.append(".")
    return tuple(said)


def _said_alike(params: Crop, done: list[Cropped], seams: list[str]) -> Sentence:
    """Say what was cut along a seam, and how long that is from the point of the piece itself."""
    if not seams:
        return ()
    said: list[str | float] = [f" Both sides of {listed(seams)} are cut alike"]
    for c in done:
        if abs(c.long - params.length) > OTHER_MM:
            said += [f"; from its own {params.point} {c.piece.name} is ", c.long, " long"]
    return (*said, ".")


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
