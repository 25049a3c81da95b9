"""Leave the lower end of a seam open: a slit, or a vent with an underlap."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.part_open import OpenPart, PartOpened, lining_open, part_opened
from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path, polyline
from clothwright.pattern.companions import as_before
from clothwright.pattern.hems import EASES, deepest
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.pattern.trail import joined, trail_to
from clothwright.units.params import param
from clothwright.words import AtLeast, Sentence, listed

LEAST_LAP_MM = 30.0
"""mm an underlap is at least, or it gapes (common practice)."""
FACING_MM = 31.75
"""mm that are turned back along an opening: 1 1/4 in (common practice)."""
LEAST_FACING_MM = 6.0
"""mm of facing at least (1/4 in, our own figure): along a curve that takes less it is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Vent:
    """The seam, how far it is open, and what lies under the opening."""

    seam: str = param("seam", "open at its lower end", label="In which seam")
    length: float = param("length", "from the hem line up", label="How long", least=0.0)
    underlap: float = param(
        "length",
        "how wide the two sides lie over each other; nothing makes a slit",
        default=0.0,
        label="How wide an underlap",
        least=0.0,
    )
    facing: float | None = param(
        "length",
        "turned back along the opening; left out: as is usual, along a curve what cloth eases in",
        default=None,
        label="How much is turned back",
        least=0.0,
    )


def apply(pattern: Pattern, params: Vent) -> Outcome:
    """Sew the seam down to the opening only, and give its edges below what they need.

    A slit's edges are turned back along the seam line. A vent's are drawn out on both sides by the
    underlap, the same on each, with a top slanting down at 45 degrees, and the line on which the
    upper side is folded is marked. The hem is as much longer; what goes with it need not be.

    Raises CannotDo for an underlap under 30 mm, or one that is longer than the vent, BadInput for
    no length. Source: plane geometry; underlap and slant common practice (docs/changes/vent.md).
    """
    lap = params.underlap
    if 0.0 < lap < LEAST_LAP_MM:
        raise CannotDo(
            what=("an underlap of ", lap, " cannot be sewn so that it stays shut"),
            why="the sides would gape as soon as the wearer moves",
            nearest=(AtLeast(LEAST_LAP_MM), " or more, or none for a slit"),
        )
    if lap >= params.length > 0.0:
        raise BadInput(what="the underlap is wider than the vent is long", expected="a longer vent")
    word = "vent" if lap else "slit"
    opened = part_opened(pattern, params.seam, params.length, low=True, called=word)
    after = opened.pattern
    facing = _facing(after, opened, lap) if params.facing is None else params.facing
    for part in opened.parts:
        piece = after.piece(part.piece)
        piece = _extended(piece, part, lap, facing) if lap else _turned_back(piece, part, facing)
        after = after.with_piece(piece)
    after = as_before(opened.pattern, after)
    names = dict.fromkeys(p.piece for p in opened.parts)
    trail = joined(trail_to(pattern.piece(n), (after.piece(n),)) for n in names)
    return Outcome(pattern=after, said=_said(opened, params, facing, word), trail=trail)


def _facing(pattern: Pattern, opened: PartOpened, lap: float) -> float:
    """Return how much is turned back, mm: along a slit's curve what cloth eases in, in whole mm."""
    if lap:
        return FACING_MM
    edges = [(_turned_back(pattern.piece(p.piece), p, FACING_MM), p.edge) for p in opened.parts]
    most = min(deepest(piece, edge, EASES) for piece, edge in edges)
    return float(math.floor(most)) if LEAST_FACING_MM <= most < FACING_MM else FACING_MM


def _turned_back(piece: Piece, part: OpenPart, width: float) -> Piece:
    edge = piece.edge(part.edge)
    return piece.with_edge(replace(edge, role=Role.HEM, allowance=width))


def _extended(piece: Piece, part: OpenPart, lap: float, facing: float) -> Piece:
    """Draw the open edge out by the underlap, its top at 45 degrees; the hem runs on to it."""
    edge = piece.edge(part.edge)
    down = edge.path if part.at_end else edge.path.reversed()
    out = parallel(edge.path, lap)
    out = out if part.at_end else out.reversed()
    outer = out.between(lap, out.length)
    slant, foot = polyline((down.start, outer.start)), polyline((outer.end, down.end))
    top, side = (f"{part.edge} top", slant, edge.allowance), (part.edge, outer, facing)
    lines = [top, side]
    if not part.at_end:
        lines = [(name, path.reversed(), width) for name, path, width in (side, top)]
    new = tuple(
        Edge(name=name, path=path, role=Role.RAW, allowance=width, corner=corner)
        for (name, path, width), corner in zip(lines, (edge.corner, ""), strict=True)
    )
    beside = piece.neighbours(part.edge)[part.at_end]
    hem = _run_on(beside, foot, after=part.at_end)
    edges = tuple(
        e
        for old in piece.edges
        for e in (new if old.name == edge.name else (hem,) if old.name == hem.name else (old,))
    )
    fold = Mark(name=f"{part.edge} fold", path=down, note="fold of the side that lies on top")
    piece = replace(piece, edges=edges, marks=(*piece.marks, fold))
    refuse_crossing(piece, f'the vent of "{piece.name}" cannot be drawn', "a narrower underlap")
    return piece


def _run_on(hem: Edge, foot: Path, *, after: bool) -> Edge:
    """Return the hem beside an open edge with the foot of its underlap in front, or behind it."""
    if after:
        notches = tuple(replace(n, at=n.at + foot.length) for n in hem.notches)
        return replace(hem, path=foot.joined(hem.path), notches=notches)
    return replace(hem, path=hem.path.joined(foot.reversed()))


def _said(opened: PartOpened, params: Vent, facing: float, word: str) -> Sentence:
    names = listed(list(dict.fromkeys(p.piece for p in opened.parts)))
    said: Sentence = (f"Left seam {params.seam} open for a {word}, ", params.length, " long")
    if not params.underlap:
        turned: Sentence = ("; ", facing, f" is turned back along it on {names}.")
        return (*said, *turned, *lining_open(opened))
    return (
        *said,
        ", with ",
        params.underlap,
        f" drawn out on {names}: fold the upper side on the marked line and let the other lie "
        "under it; both slants are sewn together. A lining is cut back there by ",
        facing,
        ".",
        *lining_open(opened),
    )


CHANGE = Change(
    id="vent",
    title="Leave a slit or a vent",
    topic="fullness and openings",
    why="A narrow skirt or a long coat needs room to stride: left open from the hem up, with or "
    "without an underlap.",
    source="plane geometry; underlap of 3 cm or more, slanting top: common practice",
    params=Vent,
    apply=apply,
)
