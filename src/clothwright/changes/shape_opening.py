"""Raise or lower, widen or narrow a neckline or an armhole, along the edges that it ends at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.layers import longer_in_all
from clothwright.changes.legs import darts_trued
from clothwright.changes.partners import partners
from clothwright.changes.redraw import (
    Place,
    Redrawn,
    prolonged,
    redrawn,
    refuse_crossing,
    swung,
)
from clothwright.changes.upper import STEEP
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.beside import Beside, Tip, sewn_flat
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name, listed, refs_name

LEFT_MM = 5.0
"""mm that must be left of an edge that is cut off."""
LEFT = 0.1
"""Share of its height and of its width that is left of a line at least."""
ON_DEG = 30.0
"""degrees: an edge beside that turns off by less is the same line, running on. Our own figure."""
FLAT_MM = 2.0
"""mm: a line that rises or goes across by less than this is turned whole instead of stretched."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeOpening:
    """Parameters of `shape-opening`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges",
        "the neck edges, or both armhole edges: what is sewn together is changed together",
        label="Which edges",
    )
    lower: float = param(
        "length",
        "at its low end, along the centre or the side; a minus raises it",
        default=0.0,
        label="How much lower",
    )
    shoulder: float = param(
        "length",
        "at its high end; a minus makes the shoulder longer",
        default=0.0,
        label="How much off the shoulder",
    )


def apply(pattern: Pattern, params: ShapeOpening) -> Outcome:
    """Move both ends of each edge along the edges beside it, and stretch the curve between them.

    The curve is stretched up the grain and across it, so that an end that was square to the centre
    stays square. Between two of the edges that are sewn to each other the line stays. Edges beside
    are cut off, or run on straight; notches stay where they are on the curve. Raises CannotDo where
    a dart is in the way or an edge would be used up.
    """
    refs = [parse_edge(text) for text in params.edges]
    names = refs_name((r.piece, r.edge) for r in refs)
    if not refs:
        raise BadInput(what="no edge is named", expected="the edges of a neckline or an armhole")
    if params.lower == 0.0 and params.shoulder == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {names} as it was.",))
    if params.lower != params.shoulder:
        _refuse_waist(pattern, refs, names)
    changed, gone = pattern, list[str]()
    ends = _ends(pattern, refs, params)
    for ref in dict.fromkeys(refs):
        piece, lost = _shaped(changed.piece(ref.piece), ref.edge, ends)
        changed, gone = changed.with_piece(piece), [*gone, *lost]
    changed, trued = own_corners.trued(pattern, changed)
    grown = ((r.piece, _sewn(changed, r) - _sewn(pattern, r)) for r in dict.fromkeys(refs))
    said = (
        *_moved(params, names),
        "; together the edges are ",
        *longer_in_all(pattern, grown),
        *((f"; cut off with the rest: {listed(gone)}",) if gone else ()),
        ".",
        *trued,
        *partners(pattern, changed),
    )
    return Outcome(pattern=changed, said=said)


def _refuse_waist(pattern: Pattern, refs: Sequence[EdgeRef], names: str) -> None:
    """Refuse edges from both ends of which the edges beside lead steeply down, or on. CannotDo."""
    for ref in refs:
        piece, own = pattern.piece(ref.piece), pattern.edge(ref).path
        before, after = piece.neighbours(ref.edge)
        ways = (
            (-before.path.end_tangent, -own.start_tangent),
            (after.path.start_tangent, own.end_tangent),
        )
        for way, on in ways:
            steep = -piece.up.dot(way) > STEEP * abs(piece.up.cross(way))
            if not steep and abs(turn_between_deg(on, way)) > ON_DEG:
                return
    raise CannotDo(
        what=f"{names} cannot be lowered as a neckline is",
        why="the edges beside lead down from both ends, as at a waist, which has no shoulder",
        nearest="as much off both ends, or a panel cut off along the waist and left out, which "
        "makes its darts shorter, too",
    )


def _sewn(pattern: Pattern, ref: EdgeRef) -> float:
    return net_length(pattern.piece(ref.piece), ref.edge)


def _moved(params: ShapeOpening, names: str) -> Sentence:
    ends: list[Sentence] = []
    if params.lower:
        way = "Lowered" if params.lower > 0 else "Raised"
        ends.append((f"{way} {names} by ", abs(params.lower)))
    if params.shoulder:
        way = "off" if params.shoulder > 0 else "on to"
        lead = "" if ends else f"Changed {names}, "
        ends.append((lead, abs(params.shoulder), f" {way} the shoulder end"))
    return ends[0] if len(ends) == 1 else (*ends[0], ", with ", *ends[1])


def _ends(pattern: Pattern, refs: Sequence[EdgeRef], params: ShapeOpening) -> dict[Tip, float]:
    """Return by how much each end of each edge moves.

    Where a seam between two of the edges would part, as at the panels of an armhole, both ends move
    by the lesser of the two, or stay if one does or the ways are opposite.
    """
    ends: dict[Tip, float] = {}
    for ref in refs:
        low_first = _rise(pattern.piece(ref.piece), ref.edge) > 0
        for at_end in (False, True):
            low = low_first is not at_end
            ends[Tip(ref.piece, ref.edge, at_end)] = params.lower if low else params.shoulder
    beside = Beside(pattern)
    for seam in sewn_flat(pattern):
        for across in beside.lines_across(seam):
            tips = [t for t in (across.a.tip, across.b.tip) if t in ends]
            by = {ends[t] for t in tips}
            if len(by) > 1:
                meets = min(by, key=abs) if min(by) * max(by) > 0 else 0.0
                ends |= dict.fromkeys(tips, meets)
    return ends


def _rise(piece: Piece, edge: str) -> float:
    """Return how much higher an edge ends than it begins, mm up the grain."""
    path = piece.edge(edge).path
    return piece.up.dot(path.end - path.start)


def _shaped(piece: Piece, name: str, ends: dict[Tip, float]) -> tuple[Piece, tuple[str, ...]]:
    edge, up = piece.edge(name), piece.up
    if abs(_rise(piece, name)) < FLAT_MM:
        raise CannotDo(
            what=f"{edge_name(piece.name, name)} has no low and no high end",
            why="both its ends lie level",
            nearest="moving the whole edge, or one of its corners",
        )
    before, after = piece.neighbours(name)
    first = _ended(piece, before, ends[Tip(piece.name, name, False)], at_end=True)
    last = _ended(piece, after, ends[Tip(piece.name, name, True)], at_end=False)
    start, end = first.path.end, last.path.start
    _keep_its_way(piece, edge, start, end)
    path = _stretched(edge.path, start, end, up)
    new = {name: Redrawn(path, _places(edge, path, start, end, up)), before.name: first}
    if after.name != before.name:
        new[after.name] = last
    what = f"{edge_name(piece.name, name)} cannot be moved so far"
    out = redrawn(piece, new)
    refuse_crossing(out.piece, what)
    return darts_trued(out.piece, piece, name), out.gone


def _ended(piece: Piece, edge: Edge, by: float, *, at_end: bool) -> Redrawn:
    """Return an edge beside the opening that ends `by` mm sooner at it (a minus: later)."""
    long = edge.length
    darts = [long - d.b if at_end else d.a for d in piece.darts_on(edge.name)]
    room = min([long - LEFT_MM, *(at - LEFT_MM for at in darts)])
    if by > room:
        dart = bool(darts) and min(darts) - LEFT_MM <= room
        raise CannotDo(
            what=(f"{edge_name(piece.name, edge.name)} cannot end ", by, " sooner"),
            why="a dart opens there" if dart else ("it is ", long, " long"),
            nearest=("at most ", AtMost(max(0.0, room)), " there"),
        )
    if at_end:
        path = prolonged(edge.path, -by)
        return Redrawn(path, lambda at: at if at <= path.length or by <= 0 else None)
    path = prolonged(edge.path.reversed(), -by).reversed()
    return Redrawn(path, lambda at: at - by if at >= by or by <= 0 else None)


def _keep_its_way(piece: Piece, edge: Edge, start: Vec, end: Vec) -> None:
    """Refuse to turn a line over: its low end above its high end, or one past the other. mm."""
    was, now = edge.path.end - edge.path.start, end - start
    for way in (piece.up, piece.up.perp):
        if abs(was.dot(way)) >= FLAT_MM and now.dot(way) / was.dot(way) < LEFT:
            raise CannotDo(
                what=f"{edge_name(piece.name, edge.name)} cannot be moved so far",
                why="one of its ends would come level with the other, or pass it",
                nearest=("less than ", abs(was.dot(way)) * (1 - LEFT), " that way"),
            )


def _grain_map(path: Path, start: Vec, end: Vec, up: Vec) -> Transform | None:
    """Return the stretch, up the grain and across it, that takes a line's ends to new ones."""
    across, was, now = up.perp, path.end - path.start, end - start
    if abs(was.dot(up)) < FLAT_MM or abs(was.dot(across)) < FLAT_MM:
        return None
    tall, wide = now.dot(up) / was.dot(up), now.dot(across) / was.dot(across)
    a = tall * up.x * up.x + wide * across.x * across.x
    b = tall * up.x * up.y + wide * across.x * across.y
    d = tall * up.y * up.y + wide * across.y * across.y
    shift = start - Transform(a, b, b, d, 0.0, 0.0).apply(path.start)
    return Transform(a, b, b, d, shift.x, shift.y)


def _stretched(path: Path, start: Vec, end: Vec, up: Vec) -> Path:
    move = _grain_map(path, start, end, up)
    if move is None:
        return swung(swung(path, start=start), end=end)
    return path.transformed(move).with_ends(start=start, end=end)


def _places(edge: Edge, path: Path, start: Vec, end: Vec, up: Vec) -> Place:
    move = _grain_map(edge.path, start, end, up)

    def place(at: float) -> float:
        if move is None:
            return at * path.length / edge.length
        return path.nearest(move.apply(edge.path.point_at(at)))[0]

    return place


CHANGE = Change(
    id="shape-opening",
    title="Raise or lower a neckline or an armhole",
    topic="edges and seams",
    why="A neckline that chokes or gapes, an armhole that cuts: it is drawn lower, higher, wider "
    "or narrower, and ends where it has to on the centre, the shoulder and the side.",
    source="common practice: the new line meets the centre square; plane geometry",
    params=ShapeOpening,
    apply=apply,
)
