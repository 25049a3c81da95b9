"""Crop pieces at a length measured from the high point of the shoulder."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.hemline import new_hem
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, listed


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
    wholly below is left out, and the sentence says what.

    Raises CannotDo when the line would cut through a dart of another edge or cut an edge off
    altogether; BadInput for unknown names and a length or allowance below nothing.
    Source: docs/sources.md, cropping from the high point of the shoulder.
    """
    if params.length <= 0:
        raise BadInput(what="the length is nothing or less", expected="a length above nothing")
    if params.allowance is not None and params.allowance < 0:
        raise BadInput(what="the allowance is less than nothing", expected="0 or more")
    changed = pattern
    gone: list[str] = []
    by: list[float] = []
    refs = [parse_edge(text) for text in params.edges]
    for ref in refs:
        piece, lost, shorter = _cropped(pattern.piece(ref.piece), ref.edge, params)
        changed = changed.with_piece(piece)
        gone.extend(lost)
        by.append(shorter)
    return Outcome(pattern=changed, said=_said([r.piece for r in refs], params, by, gone))


def _cropped(piece: Piece, name: str, params: Crop) -> tuple[Piece, tuple[str, ...], float]:
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
    return out, gone, old - params.length


def _said(pieces: list[str], params: Crop, by: list[float], gone: list[str]) -> Sentence:
    said: list[str | float] = [f"Cropped {listed(pieces)} to ", params.length]
    said.append(f" from the {params.point}")
    for name, shorter in zip(pieces, by, strict=True):
        said += [f"; {name} is ", abs(shorter), " shorter" if shorter >= 0 else " longer"]
    if params.allowance is not None:
        said += ["; allowance ", params.allowance]
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
