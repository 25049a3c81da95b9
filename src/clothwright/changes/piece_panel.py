"""Cut a piece in two along a line and add a seam there (piecing), or a seam on its fold."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.cut_out import CORNER_MM, SHORTEST_MM, off_fold
from clothwright.changes.darts import free_name
from clothwright.changes.hinge import refuse_through_darts
from clothwright.changes.in_two import NewSeam, bowed, ends_of, from_centre, halves, sewn_again
from clothwright.changes.slash import Opening, Slash, cut_in_two, is_inside
from clothwright.errors import BadInput, CannotDo, one_of
from clothwright.geometry.intersect import crossings, line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_corners
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_point
from clothwright.pattern.trail import trail_to
from clothwright.units.params import param
from clothwright.words import AtLeast

FOLD = "fold"


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecePanel:
    """Parameters of `piece-panel`; lengths in mm."""

    piece: str = param("piece", "the piece to cut in two", label="Which piece")
    line: str = param(
        "line",
        'where: a level, a straight line marked on the piece, or "fold" for a seam on its fold',
        default="",
        label="Along which line",
    )
    above: float = param(
        "length",
        "below it with a minus",
        default=0.0,
        label="How far above that line",
    )
    start: str = param(
        "point",
        "instead of a line: a point of the outline",
        default="",
        label="Or from which point",
    )
    end: str = param(
        "point",
        "and another one; the seam runs straight between them",
        default="",
        label="To which point",
    )
    bow: float = param(
        "length",
        "in its middle, from the straight line: upwards, or away from the centre; a minus bows "
        "it the other way",
        default=0.0,
        label="How far the seam is bowed",
    )
    allowance: float = param(
        "length",
        "on both sides of it",
        default=15.875,
        label="Allowance of the new seam",
    )
    names: str = param(
        "text",
        '"UPPER, LOWER" or "INNER, OUTER"',
        default="",
        label="Names of the two parts",
    )


def apply(pattern: Pattern, params: PiecePanel) -> Outcome:
    """Cut a piece in two along a straight or bowed line and sew the parts together again there.

    The stitching line of the new seam is the line itself, so that sewn up the piece is as before:
    the parts' areas add up to the whole, and both sides of the seam are equally long. Each part
    keeps the grain, its share of levels and marks, and the piece's cut counts; both new edges get
    the allowance and notches at a third and two thirds. A seam of an edge that is cut in two now
    names both parts in order. On the fold: the half piece is cut as a pair, with a centre seam.

    Parts are named upper and lower; where the line runs upright, inner (nearer the centre) and
    outer. A part that no longer touches the fold is cut as a pair.

    Raises CannotDo when a dart would be cut through, when the line does not cross the outline just
    twice, or when both its ends lie on one edge; BadInput for unknown names.
    Source: common practice; plane geometry.
    """
    if params.allowance < 0:
        raise BadInput(what="the allowance is less than nothing", expected="0 or more")
    piece = pattern.piece(params.piece)
    fold = piece.fold
    if params.line and params.line in (FOLD, fold.name if fold else FOLD):
        return _seam_on_fold(pattern, piece, params)
    slash = _slash(piece, params)
    seam = NewSeam(allowance=params.allowance, curve=bowed(slash, params.bow))
    _check_darts(slash, seam.curve)
    upper, lower = halves(pattern, slash, params.names, seam)
    edge = upper.edges[-1]
    said = (
        f"Cut {piece.name} in two: {upper.name} and {lower.name}, joined by a seam ",
        edge.length,
        " long, allowance ",
        edge.allowance,
        ".",
    )
    changed = sewn_again(pattern, piece, upper, lower)
    return Outcome(pattern=changed, said=said, trail=trail_to(piece, (upper, lower)))


# --- where to cut -------------------------------------------------------------------------------


def _slash(piece: Piece, params: PiecePanel) -> Slash:
    if params.line and (params.start or params.end):
        raise BadInput(what="both a line and two points are given", expected="one or the other")
    if params.line:
        at, along = _line(piece, params)
        found = [
            (c.at_b, e, c.at_a) for e in piece.edges for c in line_crossings(e.path, at, along)
        ]
        ends = _apart(piece, sorted(found, key=lambda f: f[0]), params)
    elif params.start and params.end:
        ends = [_place(piece, text) for text in (params.start, params.end)]
    else:
        raise BadInput(
            what="neither a line nor two points are given",
            expected="a marked line such as the waist line, the fold, or start and end",
        )
    (first, a), (second, b) = ends
    if first.name == second.name:
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut there',
            why=f'both ends of the line lie on its edge "{first.name}"',
            nearest="a line from one edge to another",
        )
    slash = cut_in_two(piece, Opening(first.name, a, a), Opening(second.name, b, b))
    _check_line(slash)
    return slash


def _line(piece: Piece, params: PiecePanel) -> tuple[Vec, Vec]:
    """Return a point and the direction of a named line."""
    up = piece.up * params.above
    if any(lv.name == params.line for lv in piece.levels):
        return piece.level(params.line).at + up, piece.up.perp
    mark = next((m for m in piece.marks if m.name == params.line and m.path is not None), None)
    if mark is None or mark.path is None:
        known = [lv.name for lv in piece.levels]
        known += [m.name for m in piece.marks if m.path is not None]
        known += [FOLD] if piece.fold is not None else []
        raise BadInput(
            what=f'piece "{piece.name}" has no marked line "{params.line}"',
            expected=one_of([*known, "start and end instead"]),
        )
    if not mark.path.is_straight:
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut along "{params.line}"',
            why="that line is not straight",
            nearest="start and end, two points of the outline",
        )
    return mark.path.start + up, (mark.path.end - mark.path.start).unit


def _apart(
    piece: Piece, found: list[tuple[float, Edge, float]], params: PiecePanel
) -> list[tuple[Edge, float]]:
    """Return the two places where a line crosses the outline; a corner counts once."""
    places: list[tuple[float, Edge, float]] = []
    for run, edge, at in found:
        if not places or run - places[-1][0] > CORNER_MM:
            places.append((run, edge, at))
    if len(places) == 2:
        return [(e, _snapped(e, at)) for _, e, at in places]
    why = (
        "the line does not cross it"
        if len(places) < 2
        else f"the line crosses its outline {len(places)} times"
    )
    raise CannotDo(
        what=f'"{piece.name}" cannot be cut along "{params.line}"',
        why=why,
        nearest="another height (above), or start and end, two points of the outline",
    )


def _place(piece: Piece, text: str) -> tuple[Edge, float]:
    name = parse_point(text)[1] if text.startswith(f"{piece.name}.") else text.strip()
    point = piece.point(name)
    edge = min(piece.edges, key=lambda e: e.path.nearest(point)[1])
    at, off = edge.path.nearest(point)
    if off > CORNER_MM:
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut at "{name}"',
            why=("it lies ", off, " inside the outline"),
            nearest="a point of the outline",
        )
    return edge, _snapped(edge, at)


def _snapped(edge: Edge, at: float) -> float:
    if at <= CORNER_MM:
        return 0.0
    return edge.length if at >= edge.length - CORNER_MM else at


def _check_line(slash: Slash) -> None:
    """Refuse a line that leaves the piece on its way, or is hardly a seam."""
    p, q = ends_of(slash)
    what = f'"{slash.piece.name}" cannot be cut there'
    if p.distance(q) < SHORTEST_MM:
        raise CannotDo(
            what=what,
            why=("the seam would be only ", p.distance(q), " long"),
            nearest="a line through the middle of the piece",
        )
    inner = (p.lerp(q, 1e-3), p.lerp(q, 0.5), p.lerp(q, 1 - 1e-3))
    outline = slash.piece.outline.flatten(0.05)
    met = [
        c
        for c in crossings(polyline((p, q)), slash.piece.outline)
        if CORNER_MM < c.at_a < p.distance(q) - CORNER_MM
    ]
    along = slash.piece.outline.nearest(inner[1])[1] < 1.0
    if met or along or not all(is_inside(outline, m) for m in inner):
        raise CannotDo(
            what=what,
            why="a straight line between these places leaves the piece, or runs along its edge",
            nearest="two points that see each other across the piece",
        )


def _check_darts(slash: Slash, curve: Path | None) -> None:
    """Refuse to cut through a dart; say how far the line must move to miss it."""
    p, q = ends_of(slash)
    normal = (q - p).unit.perp
    for dart in slash.piece.darts:
        if curve is not None:
            refuse_through_darts(slash.piece, curve, f'"{slash.piece.name}" cannot be cut there')
            break
        off = [normal.dot(c - p) for c in dart_corners(slash.piece, dart)]
        if min(off) < -CORNER_MM and max(off) > CORNER_MM:
            by = min(max(off), -min(off)) + 1.0
            raise CannotDo(
                what=f'"{slash.piece.name}" cannot be cut there',
                why=f'the line would cut through its dart "{dart.name}"',
                nearest=(
                    "a line ",
                    AtLeast(by),
                    " to one side, or the dart moved first",
                ),
            )


def _seam_on_fold(pattern: Pattern, piece: Piece, params: PiecePanel) -> Outcome:
    """Cut a half piece as a pair, with a seam where its fold was."""
    fold = piece.fold
    if fold is None:
        raise CannotDo(
            what=f'"{piece.name}" cannot have a seam on its fold',
            why="it has no fold edge",
            nearest="a marked line such as the waist line, or start and end",
        )
    if not fold.path.is_straight:
        raise CannotDo(
            what=f'"{piece.name}" cannot have a seam on its fold',
            why=f'its fold edge "{fold.name}" is not straight',
            nearest="straighten the fold edge first",
        )
    length = fold.length
    edge = replace(
        fold,
        role=Role.CENTRE,
        allowance=params.allowance,
        notches=(Notch(at=length / 3), Notch(at=length * 2 / 3)),
    )
    name = params.names.strip() or piece.name
    if name != piece.name:
        raise BadInput(
            what="a seam on the fold leaves one piece, cut as a pair", expected="no new names"
        )
    new = replace(piece.with_edge(edge), cuts=tuple(off_fold(c) for c in piece.cuts))
    ref = EdgeRef(piece.name, fold.name, reversed=not from_centre(new, fold.name))
    seam = Seam(
        name=free_name(tuple(s.name for s in pattern.seams), f"{piece.name} {fold.name}"),
        a=(ref,),
        b=(ref,),
    )
    changed = pattern.with_piece(new)
    return Outcome(
        pattern=replace(changed, seams=(*changed.seams, seam)),
        trail=trail_to(piece, (new,)),
        said=(
            f"Gave {piece.name} a seam ",
            length,
            " long where its fold was, cut as a pair; allowance ",
            params.allowance,
            ".",
        ),
    )


CHANGE = Change(
    id="piece-panel",
    title="Piece: cut in two along a line and add a seam",
    topic="whole pieces",
    why="A piece too large for the cloth that is left goes on it in two parts. The seam is best "
    "hidden in a dark part of the print, under a pocket or a belt, or at the centre.",
    source="common practice; plane geometry",
    params=PiecePanel,
    apply=apply,
)
