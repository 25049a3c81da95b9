"""Both parts of a piece that is cut in two, and the seam that sews them together again.

What piecing and style lines share. All lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.bands import rank
from clothwright.changes.cut_out import CORNER_MM, CutPart, OutlinePlace, cut_out
from clothwright.changes.darts import free_name
from clothwright.changes.redraw import blend
from clothwright.changes.slash import Slash, lips, part_outline, part_that_stays
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import crossings, self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.pattern.refs import EdgeRef

EDGE = "joining"
UPRIGHT = 0.7072
"""A line that runs at 45 degrees or less to the grain is upright."""
CORNER_NOTCH_MM = 50.0
"""mm: the notches of a seam over the bust lie 5 cm above and below the bust point (custom)."""
EASED_MM = 0.05
"""mm: less than this between both sides of a new seam is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewSeam:
    """How the line is made a seam.

    smooth: mm to each side of a corner in the line that are drawn in one curve. curve: the whole
    line instead, from the first opening to the second. notches: their names, from the first opening
    on; a line without a corner has unnamed ones at thirds.
    """

    allowance: float
    smooth: float = 0.0
    curve: Path | None = None
    notches: tuple[str, str] = ("", "")


def ends_of(slash: Slash) -> tuple[Vec, Vec]:
    """Return where the cut reaches the outline."""
    first, second = (slash.piece.edge(o.edge).path.point_at(o.a) for o in slash.openings)
    return first, second


def halves(pattern: Pattern, slash: Slash, names: str, seam: NewSeam) -> tuple[Piece, Piece]:
    """Return both parts, the upper or inner one first.

    names: "ONE, TWO", or "" for the piece's name with upper and lower, or inner and outer where the
    line runs upright. Raises BadInput for names that are taken, CannotDo where an outline would
    cross itself.
    """
    first, words = _which(slash)
    given = [n.strip() for n in names.split(",")] if names else []
    if given and (len(given) != 2 or not all(given)):
        raise BadInput(what=f'"{names}" does not name two parts', expected='"UPPER, LOWER"')
    called = given or [f"{slash.piece.name} {word}" for word in words]
    taken = [p.name for p in pattern.pieces if p.name != slash.piece.name]
    for name in called:
        if name in taken or called.count(name) > 1:
            raise BadInput(
                what=f'there is a piece "{name}" already', expected="names that are free"
            )
    return _part(slash, first, called[0], seam), _part(slash, 1 - first, called[1], seam)


def _which(slash: Slash) -> tuple[int, tuple[str, str]]:
    """Return which part comes first, and what both are called."""
    p, q = ends_of(slash)
    up = slash.piece.up
    if abs(up.dot((q - p).unit)) > UPRIGHT:
        return part_that_stays(slash), ("inner", "outer")
    middle = p.lerp(q, 0.5)
    heights = [_middle_height(slash, k, middle) for k in (0, 1)]
    return 0 if heights[0] > heights[1] else 1, ("upper", "lower")


def _middle_height(slash: Slash, part: int, middle: Vec) -> float:
    points = part_outline(slash, part)
    return sum(slash.piece.up.dot(c - middle) for c in points) / len(points)


def _part(slash: Slash, part: int, name: str, seam: NewSeam) -> Piece:
    """Return one part: its run of the outline, closed by the new edge."""
    piece, (mine, other) = slash.piece, (slash.openings[part], slash.openings[1 - part])
    line = lips(slash)[part]
    path = _rounded(line, seam.smooth)
    if seam.curve is not None:
        path = seam.curve if part == 1 else seam.curve.reversed()
    closing = Edge(
        name=free_name(tuple(e.name for e in piece.edges), EDGE),
        path=path,
        allowance=seam.allowance,
    )
    stems = seam.notches if part == 1 else seam.notches[::-1]
    closing = replace(closing, notches=_notches(line, closing.path, seam.smooth, stems))
    first, last = OutlinePlace(mine.edge, mine.b), OutlinePlace(other.edge, other.a)
    out = cut_out(piece, CutPart(name=name, first=first, last=last, closing=closing))
    if self_crossings(cutting_line(out).outline):
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut there',
            why=f'the cutting line of "{name}" would cross itself',
            nearest="a smaller allowance, or another place",
        )
    return out


def _rounded(line: tuple[Vec, ...], smooth: float) -> Path:
    """Return a line with its one corner drawn in a curve, from `smooth` mm before it on."""
    if len(line) != 3 or smooth <= 0.0:
        return polyline(line)
    start, corner, end = line
    legs = start.distance(corner), corner.distance(end)
    reach = min(smooth, 0.8 * legs[0], 0.8 * legs[1])
    before, after = corner.lerp(start, reach / legs[0]), corner.lerp(end, reach / legs[1])
    curve = blend(before, corner - before, after, after - corner)
    return Path((Line(start, before), curve, Line(after, end)))


def _notches(
    line: tuple[Vec, ...], path: Path, smooth: float, names: tuple[str, str]
) -> tuple[Notch, ...]:
    """Two notches: at thirds, or above and below the corner, where its curve begins and ends."""
    if len(line) != 3:
        return tuple(Notch(at=path.length * k / 3) for k in (1, 2))
    legs = line[0].distance(line[1]), line[1].distance(line[2])
    reach = min(smooth or CORNER_NOTCH_MM, 0.8 * legs[0], 0.8 * legs[1])
    ats = legs[0] - reach, path.length - (legs[1] - reach)
    return tuple(Notch(at=at, name=name) for at, name in zip(ats, names, strict=True))


def bowed(slash: Slash, bow: float) -> Path | None:
    """Return the cut in one curve, `bow` mm from the straight line in its middle; None for none.

    Raises CannotDo where it leaves the piece.
    """
    if bow == 0.0:
        return None
    p, q = ends_of(slash)
    out = (q - p).unit.perp
    across, upright = out * (4 / 3 * bow), abs(slash.piece.up.dot(out)) < UPRIGHT
    if upright:
        away = part_outline(slash, 1 - part_that_stays(slash))
        middle = Vec(*(sum(c[k] for c in away) / len(away) for k in (0, 1)))
        across = across if out.dot(middle - p) > 0 else -across
    elif slash.piece.up.dot(out) < 0:
        across = -across
    curve = Path((Cubic(p, p.lerp(q, 1 / 3) + across, q.lerp(p, 1 / 3) + across, q),))
    found = crossings(curve, slash.piece.outline)
    if any(CORNER_MM < c.at_a < curve.length - CORNER_MM for c in found):
        raise CannotDo(
            what=f'"{slash.piece.name}" cannot be cut there',
            why="a seam so bowed leaves the piece on its way",
            nearest="a seam that is less bowed",
        )
    return curve


def sewn_again(pattern: Pattern, piece: Piece, upper: Piece, lower: Piece) -> Pattern:
    """Return the pattern with both parts instead of the piece, sewn together along the new edge.

    Seams of an edge that was cut in two name both parts in order. Where one side of the new seam
    is longer, it is eased in, between the notches where they have names.
    """
    parts = (upper, lower)
    seams = [
        replace(s, a=_pointed(s.a, piece, parts), b=_pointed(s.b, piece, parts))
        for s in pattern.seams
    ]
    name = free_name(tuple(s.name for s in seams), f"{piece.name} joining")
    seams.append(_joining(name, upper, lower))
    at = next(i for i, p in enumerate(pattern.pieces) if p.name == piece.name)
    pieces = (*pattern.pieces[:at], upper, lower, *pattern.pieces[at + 1 :])
    return replace(pattern, pieces=pieces, seams=tuple(seams))


def _joining(name: str, upper: Piece, lower: Piece) -> Seam:
    """Return the seam along both parts' last edges, the longer one as side b."""
    edge, other = upper.edges[-1], lower.edges[-1]
    forward = from_centre(lower, other.name)
    a = EdgeRef(lower.name, other.name, reversed=not forward)
    b = EdgeRef(upper.name, edge.name, reversed=forward)
    ease = round(edge.length - other.length, 6)
    if abs(ease) < EASED_MM:
        return Seam(name=name, a=(a,), b=(b,))
    if ease < 0:
        a, b, edge, forward = b, a, other, not forward
    names = [n.name for n in edge.notches]
    low, high = names[::-1] if forward else names
    return Seam(name=name, a=(a,), b=(b,), ease=abs(ease), ease_from=low, ease_to=high)


def from_centre(part: Piece, edge: str) -> bool:
    """Tell whether the new edge, as drawn, starts at the end that the seam is sewn from.

    Sewn from the fold or centre; without one from the edge whose name comes first.
    """
    before, after = part.neighbours(edge)
    return rank(before) <= rank(after)


def _pointed(
    refs: tuple[EdgeRef, ...], piece: Piece, parts: tuple[Piece, Piece]
) -> tuple[EdgeRef, ...]:
    """Return a run with each edge of the piece named on the part or parts it lies on now."""
    out: list[EdgeRef] = []
    for ref in refs:
        if ref.piece != piece.name:
            out.append(ref)
            continue
        whole = piece.edge(ref.edge).path
        mine = [
            (whole.nearest(e.path.point_at(e.length / 2))[0], part.name)
            for part in parts
            for e in part.edges
            if e.name == ref.edge
        ]
        mine.sort(reverse=ref.reversed)
        out.extend(EdgeRef(name, ref.edge, ref.reversed) for _, name in mine)
    return tuple(out)
