"""Finished girths: how far round a garment goes at a level, darts folded, without allowances."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.mates import mates
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece

LIMBS = frozenset({"biceps", "elbow", "wrist", "thigh", "knee", "calf"})
"""Levels that go round one arm or leg; of a pair of pieces one belongs to each."""

SHELL = "shell"
WAIST = "waist"
ALONG_MM = 15.0
"""An edge that stays this near to a level is the level's own line: the waist of a skirt."""
MOST_SLOPE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Girth:
    """The finished girth of one garment at one level.

    mm: all round (of one arm or leg for a level of LIMBS). pieces: those counted. lower: no piece
    of the garment has a bust level: a skirt or trousers. missing: why it cannot be told, or "".
    """

    level: str
    mm: float
    pieces: tuple[str, ...]
    lower: bool
    missing: str = ""


def finished_girths(pattern: Pattern, levels: Iterable[str]) -> tuple[Girth, ...]:
    """Return the girth of each garment of the shell cloth at each level that its pieces have.

    A skirt or trousers without a waist line have their waist along the edges of that name.
    """
    groups = _garments(pattern)
    found: list[Girth] = []
    for level in levels:
        for group in groups:
            mine = [p for p in group if any(lv.name == level for lv in p.levels)]
            lower = not any(lv.name == "bust" for p in group for lv in p.levels)
            if mine:
                found.append(_girth(pattern, level, mine, lower=lower))
            elif level == WAIST and lower:
                found.extend(_waist(pattern, group))
    return tuple(found)


def _waist(pattern: Pattern, pieces: list[Piece]) -> Iterator[Girth]:
    """Yield the girth along the waist edges of the pieces of a skirt or trousers, darts sewn."""
    mine = [p for p in pieces if any(e.name == WAIST for e in p.edges)]
    sewn = {r.piece for s in pattern.seams for r in s.refs}
    loose = [p.name for p in mine if p.name not in sewn]
    if mine:
        yield Girth(
            missing=f'"{loose[0]}" is not sewn to anything yet' if loose else "",
            level=WAIST,
            mm=sum(net_length(p, WAIST) * _times(p) for p in mine),
            pieces=tuple(p.name for p in mine),
            lower=True,
        )


def _girth(pattern: Pattern, level: str, pieces: list[Piece], *, lower: bool) -> Girth:
    limb = level in LIMBS
    mm = sum(width_at(p, level) * _times(p) / (min(_copies(p), 2) if limb else 1) for p in pieces)
    return Girth(
        level=level,
        mm=mm,
        pieces=tuple(p.name for p in pieces),
        lower=lower,
        missing=_missing(pattern, level, pieces),
    )


def _garments(pattern: Pattern) -> list[list[Piece]]:
    """Return the pieces of the shell that plain seams join, facings left out."""
    facings = {r.piece for s in pattern.seams if s.kind == "facing" for r in s.b}
    shell = [
        p
        for p in pattern.pieces
        if p.name not in facings and (not p.cuts or any(c.material == SHELL for c in p.cuts))
    ]
    of = {p.name: k for k, p in enumerate(shell)}
    for seam in pattern.seams:
        names = [r.piece for r in seam.refs if r.piece in of]
        if seam.kind in ("plain", "closure") and names:
            first = of[names[0]]
            others = {of[n] for n in names}
            of = {n: first if k in others else k for n, k in of.items()}
    return [[p for p in shell if of[p.name] == k] for k in dict.fromkeys(of.values())]


def _times(piece: Piece) -> int:
    """Return how many widths of a piece go round: halves on the fold count twice."""
    return _copies(piece) * (2 if piece.fold is not None else 1)


def _copies(piece: Piece) -> int:
    """Return how often a piece is cut from the shell: of two, each goes round one arm or leg."""
    cut = next((c for c in piece.cuts if c.material == SHELL), None)
    return 1 if cut is None else cut.count * (2 if cut.how == "pair" else 1)


def width_at(piece: Piece, level: str) -> float:
    """Return the finished width of a piece at a level in mm, darts folded out.

    Square to the grain between the stitching lines; past a mark "centre front" or "centre back"
    nothing counts (buttons lap there). Where an edge runs along the level, the edge's length. A
    dart counts when it runs more up than across: one that lies along the level takes nothing
    from its girth. Raises BadInput for a level the piece has not.
    """
    at, up = piece.level(level).at, piece.up
    across = Vec(up.y, -up.x)
    edge = _along(piece, at, across)
    if edge is not None:
        return net_length(piece, edge.name)
    inside = [_to_centre(piece, at, across, *ends) for ends in _inside(piece, at, across)]
    return sum(high - low for low, high in inside) - sum(
        _folded(piece, d, at, across) for d in piece.darts
    )


def _along(piece: Piece, at: Vec, across: Vec) -> Edge | None:
    """Return the edge that is the level's own line, if there is one."""
    up = Vec(-across.y, across.x)
    for edge in piece.edges:
        chord = edge.path.end - edge.path.start
        if abs(up.dot(chord)) > MOST_SLOPE * abs(across.dot(chord)):
            continue
        places = (edge.path.point_at(edge.length * k / 8) for k in range(9))
        near = all(abs(up.dot(p - at)) <= ALONG_MM for p in places)
        if near and abs(across.dot(chord)) > 0.6 * _span(piece.outline, across):
            return edge
    return None


def _span(path: Path, across: Vec) -> float:
    xs = [across.dot(s.point(t / 4)) for s in path.segments for t in range(5)]
    return max(xs) - min(xs)


def _inside(piece: Piece, at: Vec, across: Vec) -> Iterator[tuple[float, float]]:
    """Return the stretches of a level's line that lie in the piece: mm from `at`."""
    outline, up = piece.outline, Vec(-across.y, across.x)
    hits = sorted(c.at_b for c in line_crossings(outline, at, across))
    for low, high in pairwise(hits):
        if high - low < 0.1:
            continue
        middle = at + across * ((low + high) / 2)
        above = sum(c.at_b > 0 for c in line_crossings(outline, middle, up))
        if above % 2:
            yield low, high


def _to_centre(piece: Piece, at: Vec, across: Vec, low: float, high: float) -> tuple[float, float]:
    """Return a stretch cut off at the centre line, where the piece has one inside it."""
    for mark in piece.marks if piece.fold is None else ():
        points = [] if mark.at is None else [mark.at]
        points += [] if mark.path is None else [mark.path.start, mark.path.end]
        if mark.name in ("centre front", "centre back") and points:
            x = sum(across.dot(p - at) for p in points) / len(points)
            if low < x < high:
                low, high = (x, high) if high - x > x - low else (low, x)
    return low, high


def _folded(piece: Piece, dart: Dart, at: Vec, across: Vec) -> float:
    """Return how much of a level's line lies in a dart, mm; 0 for a dart that lies along it."""
    up = Vec(-across.y, across.x)
    path = piece.edge(dart.edge).path
    legs = [path.point_at(dart.a), path.point_at(dart.b)]
    axis = dart.point - (legs[0] + legs[1]) * 0.5
    if abs(up.dot(axis)) <= abs(across.dot(axis)):
        return 0.0
    found = []
    for leg in legs:
        low, high = up.dot(leg - at), up.dot(dart.point - at)
        if low * high < 0:
            found.append(across.dot(leg + (dart.point - leg) * (low / (low - high)) - at))
    return abs(found[0] - found[1]) if len(found) == 2 else 0.0


def _missing(pattern: Pattern, level: str, pieces: list[Piece]) -> str:
    """Return why the pieces with a level do not go all round; "" when they do."""
    names = {p.name for p in pieces}
    sewn = pattern.sewn
    for piece in pieces:
        sides = _sides(piece, level)
        if sides and not any((piece.name, side) in sewn for side in sides):
            return f'"{piece.name}" is not sewn to anything yet'
    for piece in pieces:
        for edge in _crossed(piece, level):
            for other in _sewn_to(pattern, piece.name, edge):
                if other not in names:
                    return f'"{other}" has no {level} line, and is sewn to "{piece.name}" there'
    return ""


def _sides(piece: Piece, level: str) -> list[str]:
    """Return the edges at both sides of a piece at a level, without one on the fold."""
    at, up = piece.level(level).at, piece.up
    edge = _along(piece, at, Vec(up.y, -up.x))
    sides = _crossed(piece, level)
    if edge is not None:
        k = piece.edges.index(edge)
        sides = [piece.edges[n % len(piece.edges)].name for n in (k - 1, k + 1)]
    folded = piece.fold
    return [name for name in sides if folded is None or name != folded.name]


def _crossed(piece: Piece, level: str) -> list[str]:
    at, up = piece.level(level).at, piece.up
    across = Vec(up.y, -up.x)
    if _along(piece, at, across) is not None:
        return []
    return [e.name for e in piece.edges if line_crossings(e.path, at, across)]


def _sewn_to(pattern: Pattern, piece: str, edge: str) -> Iterator[str]:
    """Return the pieces that plain seams lay along an edge."""
    for seam in pattern.seams_of(piece, edge):
        if seam.kind == "plain":
            for a, b in mates(pattern, seam):
                for here, there in ((a, b), (b, a)):
                    if (here.piece, here.edge) == (piece, edge):
                        yield there.piece
