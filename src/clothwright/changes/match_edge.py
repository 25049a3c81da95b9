"""Make an edge as long as what it is sewn to."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import (
    Recut,
    Redrawn,
    from_nearer,
    on_the_cloth,
    prolonged,
    redrawn,
    refuse_crossing,
    swung_edge,
)
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.offset import meeting
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import gain_of, net_length, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name, listed

SAME_MM = 1e-3
"""mm: a smaller difference is left alone (a hundredth of a pencil line)."""

LEFT_MM = 5.0
"""mm of stitching line that must be left between an end that moves and the next dart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchEdge:
    """Parameters of `match-edge`."""

    seam: str = param("seam", "the seam whose two sides shall agree", label="Which seam")
    edge: str = param("edge", "one of the two sides", label="Which edge changes")
    at: str = param(
        "choice",
        "",
        default="end",
        choices={
            "start": "its start, counted along the seam",
            "end": "its end, counted along the seam",
            "both": "half at each end",
        },
        label="Which of its ends moves",
    )
    neighbour: str = param(
        "choice",
        "",
        default="taper",
        choices={
            "taper": "it tapers: its other end stays",
            "parallel": "all of it moves, and the edge after it is cut off or run on",
        },
        label="What the edge beside that end does",
    )


def apply(pattern: Pattern, params: MatchEdge) -> Outcome:
    """Lengthen or shorten an edge along itself until its side of the seam is as long as the other.

    Stitching lengths count, darts folded out; the seam's ease is kept (side b longer than side a
    by it). An edge that lies along its side twice, as half a skirt along a whole band, changes by
    half. The end is run on straight, or cut back along the edge; the edge next to it follows.
    Notches and darts of the edge stay where they are on the cloth;
    a notch that would be cut off keeps its distance from the end.

    Raises CannotDo when a dart or the fold is in the way, or too little of the edge is left;
    BadInput when the edge is not part of the seam.
    Source: docs/sources.md, walking seams.
    """
    seam = pattern.seam(params.seam)
    ref = ref_in(pattern, seam, parse_edge(params.edge))
    piece = pattern.piece(ref.piece)
    now = net_length(piece, ref.edge)
    need = needed(pattern, seam, ref)
    if abs(need) <= SAME_MM:
        said: Sentence = (
            f"Left {edge_name(ref.piece, ref.edge)} at ",
            now,
            f": {seam.name} agrees already.",
        )
        return Outcome(pattern=pattern, said=said)
    if now + need <= LEFT_MM:
        raise CannotDo(
            what=(f'"{edge_name(ref.piece, ref.edge)}" cannot be made ', now + need, " long"),
            why=f'the other edges of its side of seam "{seam.name}" are too long already',
            nearest="one of those edges changed instead",
        )
    ends: tuple[str, ...] = ("start", "end") if params.at == "both" else (params.at,)
    if ref.reversed:
        ends = tuple({"start": "end", "end": "start"}[end] for end in ends)
    for end in ends:
        piece = moved_end(
            piece, ref.edge, end, need / len(ends), parallel=params.neighbour == "parallel"
        )
    refuse_crossing(
        piece, (f'"{edge_name(ref.piece, ref.edge)}" cannot be changed by ', need, " there")
    )
    said = _said(piece, ref, seam, (now, need), ends)
    return Outcome(pattern=pattern.with_piece(piece), said=said)


def ref_in(pattern: Pattern, seam: Seam, edge: EdgeRef) -> EdgeRef:
    """Return an edge as a seam travels it, where it does so first. Raises BadInput elsewhere."""
    for ref in seam.refs:
        if (ref.piece, ref.edge) == (edge.piece, edge.edge):
            return ref
    pattern.edge(edge)
    raise BadInput(
        where=f'seam "{seam.name}"',
        what=f'"{edge_name(edge.piece, edge.edge)}" is not part of it',
        expected=listed([f'"{edge_name(r.piece, r.edge)}"' for r in seam.refs], "or"),
    )


def needed(pattern: Pattern, seam: Seam, ref: EdgeRef) -> float:
    """Return by how many mm an edge must grow so that b is longer than a by the ease and no more.

    An edge that lies along a side twice changes that side by twice as much. Raises CannotDo.
    """
    off = side(pattern, seam.b).length - side(pattern, seam.a).length - seam.ease
    gain = gain_of(seam, ref)
    if gain == 0 and abs(off) > SAME_MM:
        raise CannotDo(
            what=f'"{edge_name(ref.piece, ref.edge)}" cannot make seam "{seam.name}" agree',
            why="it lies on both sides of that seam, which change alike",
            nearest="another edge of the seam",
        )
    return -off / gain if gain else 0.0


def moved_end(piece: Piece, name: str, end: str, by: float, *, parallel: bool = False) -> Piece:
    """Return the piece with one end ("start" or "end") of an edge moved along the edge by `by` mm.

    by > 0 lengthens. The edge next to that end follows: swung about its other end, or (parallel)
    shifted as it is, its other end then cut off or run on to meet the edge after it.
    Raises CannotDo.
    """
    edge = piece.edge(name)
    _check_room(piece, name, end, by)
    if end == "end":
        path = prolonged(edge.path, by)
    else:
        path = prolonged(edge.path.reversed(), by).reversed()
    own = Redrawn(path, on_the_cloth(edge.length, path.length, end))
    before, after = piece.neighbours(name)
    other = after if end == "end" else before
    corner = path.end if end == "end" else path.start
    _check_fold(piece, name, other.name)
    if not parallel:
        moves = {"start": corner} if end == "end" else {"end": corner}
        return redrawn(piece, {name: own, other.name: swung_edge(piece, other.name, **moves)}).piece
    return _shifted(piece, {name: own}, other.name, corner, end).piece


def _check_room(piece: Piece, name: str, end: str, by: float) -> None:
    edge = piece.edge(name)
    darts = piece.darts_on(name)
    room = edge.length
    blocker = "the edge is no longer than that"
    if darts:
        dart = darts[-1] if end == "end" else darts[0]
        room = edge.length - dart.b if end == "end" else dart.a
        blocker = f'the dart "{dart.name}" is in the way'
    room -= LEFT_MM
    if -by > room:
        raise CannotDo(
            what=(
                f'"{edge_name(piece.name, name)}" cannot be shortened by ',
                -by,
                f" at {end_words(piece, name, end)}",
            ),
            why=blocker,
            nearest=("to shorten it there by ", AtMost(max(0.0, room)), ", or at its other end"),
        )


def _check_fold(piece: Piece, name: str, other: str) -> None:
    if piece.edge(other).role is Role.FOLD:
        raise CannotDo(
            what=f'"{edge_name(piece.name, name)}" cannot be changed at that end',
            why=f'it meets the fold "{other}" there, which must stay where it is',
            nearest="the other end",
        )


def _shifted(piece: Piece, new: dict[str, Redrawn], name: str, corner: Vec, end: str) -> Recut:
    """Shift a whole edge so that its end lies on `corner`; cut off or run on the edge after it."""
    edge = piece.edge(name)
    far = piece.neighbours(name)[end == "end"]
    old = edge.path.start if end == "end" else edge.path.end
    path = edge.path.transformed(translation(corner - old))
    a, b = (path, far.path) if end == "end" else (far.path.reversed(), path.reversed())
    a, b = (path, far.path) if end == "end" else (path.reversed(), far.path.reversed())
    found = meeting(a, b)
    if found is None or found.at_a < JOIN_MM or found.at_b > b.length - LEFT_MM:
        raise CannotDo(
            what=f'"{edge_name(piece.name, name)}" cannot be moved parallel',
            why=f'it would no longer meet "{far.name}"',
            nearest="neighbour = taper",
        )
    long, short = found.at_a - a.length, found.at_b
    a = prolonged(a, long).with_ends(end=found.point)
    b = prolonged(b.reversed(), -short).reversed().with_ends(start=found.point)
    lost = -short
    if end == "end":
        new[name] = Redrawn(a, from_nearer(edge.length, a.length))
        new[far.name] = Redrawn(b, lambda x: x + lost)
    else:
        new[name] = Redrawn(a.reversed(), from_nearer(edge.length, a.length))
        new[far.name] = Redrawn(b.reversed(), lambda x: x)
    return redrawn(piece, new)


def _said(
    piece: Piece, ref: EdgeRef, seam: Seam, change: tuple[float, float], ends: tuple[str, ...]
) -> Sentence:
    now, need = change
    verb = "Lengthened" if need > 0 else "Shortened"
    end = (
        "altogether, half at each end,"
        if len(ends) > 1
        else f"at {end_words(piece, ref.edge, ends[0])}"
    )
    return (
        f"{verb} {edge_name(ref.piece, ref.edge)} by ",
        abs(need),
        f" {end} to agree in {seam.name}: from ",
        now,
        " to ",
        now + need,
        ".",
    )


CHANGE = Change(
    id="match-edge",
    title="Make an edge match its partner",
    topic="edges and seams",
    why="Two stitching lines that are sewn together must be equally long, or differ by the ease "
    "that is meant; otherwise one of them puckers or the hem is crooked.",
    source="docs/sources.md: walking seams and tolerances",
    params=MatchEdge,
    apply=apply,
)
