"""Which part of a garment a piece is, read from seams, roles and marks; from its name at last."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from clothwright.geometry.path import Path, polyline
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import NotchKind, Piece, Role

STRIP = 4.0
"""A piece this many times longer than wide is a band or a strap."""
ON_LINE_MM = 0.5
"""mm: a point this near to a line lies on it."""
STRAIGHT_DEG = 0.5
"""Degrees: a line this near to the grain runs along it."""


def facing_names(pattern: Pattern) -> tuple[str, ...]:
    """Return the pieces that are facings: by their name, or by the side of a facing seam.

    A facing seam lists the garment on side a and the facing on side b, unless a name says
    otherwise.
    """
    found = [p.name for p in pattern.pieces if "facing" in p.name.lower()]
    for seam in pattern.seams:
        if seam.kind != "facing":
            continue
        sides = [{r.piece for r in seam.a}, {r.piece for r in seam.b}]
        if not any(n in found for side in sides for n in side):
            found.extend(sorted(sides[1] - sides[0]))
    return tuple(dict.fromkeys(found))


def sleeve_names(pattern: Pattern) -> tuple[str, ...]:
    """Return the pieces that are sewn into an armhole: the second side of a cap seam."""
    found = (r.piece for s in pattern.seams if s.kind == "cap" for r in s.b)
    return tuple(dict.fromkeys(found))


def is_strip(piece: Piece) -> bool:
    """Tell whether a piece is a band or a strap."""
    low, high = piece.outline.bounds()
    long, wide = max(high - low), min(high - low)
    return long >= STRIP * wide


def held_together(
    pattern: Pattern, names: Iterable[str], *, kinds: Sequence[str]
) -> Iterator[tuple[str, ...]]:
    """Yield the pieces in sets that seams of these kinds hold together, in the pattern's order."""
    left = [p.name for p in pattern.pieces if p.name in set(names)]
    while left:
        group = [left.pop(0)]
        for name in group:
            for seam in pattern.seams:
                pieces = seam.pieces
                if seam.kind in kinds and name in pieces:
                    more = [n for n in left if n in pieces]
                    group += more
                    left = [n for n in left if n not in more]
        yield tuple(p.name for p in pattern.pieces if p.name in group)


def worn_together(pattern: Pattern, names: Iterable[str]) -> Iterator[tuple[str, ...]]:
    """Yield the pieces seen beside each other in sets that seams hold together, sleeves too.

    Facings are not seen; bands and straps are turned on purpose.
    """
    inside = facing_names(pattern)
    shown = [n for n in names if n not in inside and not is_strip(pattern.piece(n))]
    return held_together(pattern, shown, kinds=("plain", "cap"))


def named_view(piece: Piece) -> str:
    """Return the view that a piece's own name tells: "front", "back", or "" when it does not."""
    words = piece.name.lower().split()
    found = [v for v in ("front", "back") if v in words]
    return found[0] if len(found) == 1 else ""


def front_or_back(piece: Piece) -> str:
    """Return "front" or "back", "" when nothing tells which: its name, a bust dart, notches.

    Single notches mark a front, double ones a back (common practice, `NotchKind`).
    """
    said = named_view(piece)
    if said:
        return said
    if bust_point(piece):
        return "front"
    kinds = {n.kind for e in piece.edges for n in e.notches}
    return "back" if NotchKind.DOUBLE in kinds else ""


def is_pair(piece: Piece) -> bool:
    """Tell whether a piece is cut as a left and a right one."""
    return any(c.how == "pair" for c in piece.cuts)


def centre_line(pattern: Pattern, piece: Piece, within_deg: float = STRAIGHT_DEG) -> Path | None:
    """Return a piece's own line that lies on the middle of the body, along its grain, or None.

    within_deg: by how much it may lean against the grain.

    Its fold, an edge that is the centre or is sewn to its own twin, a line marked "centre", or the
    row of its buttons.
    """
    twins = twin_edges(pattern, piece)
    marked = [m.path for m in piece.marks if m.path and m.name.lower().startswith("centre")]
    edges = [e for e in piece.edges if e.role in (Role.FOLD, Role.CENTRE) or e.name in twins]
    lines = (*(e.path for e in edges if e.role is Role.FOLD), *marked, *(e.path for e in edges))
    lines = (*lines, *_button_row(piece))
    return next((line for line in lines if along_grain(piece, line, within_deg)), None)


def twin_edges(pattern: Pattern, piece: Piece) -> tuple[str, ...]:
    """Return the names of a piece's edges that are sewn to their own twins, as a centre back is."""
    own = (s for s in pattern.seams if s.a == s.b and s.pieces == {piece.name})
    return tuple(r.edge for s in own for r in s.a)


def _button_row(piece: Piece) -> Iterator[Path]:
    """Yield the line from the first to the last of the buttons that are marked."""
    at = [m.at for m in piece.marks if m.at is not None and m.name.lower().startswith("button")]
    rise = sorted(at, key=piece.up.dot)
    if len(rise) > 1 and rise[-1].distance(rise[0]) > ON_LINE_MM:
        yield polyline((rise[0], rise[-1]))


def bust_point(piece: Piece) -> str:
    """Return the named point at the fullest place of the bust, "" where there is none.

    A mark of that name, else where a bust dart runs out.
    """
    marks = [m.name for m in piece.marks if m.at is not None and "bust" in m.name.lower()]
    darts = [f"{d.name} point" for d in piece.darts if "bust" in d.name.lower()]
    return next(iter((*marks, *darts)), "")


def along_grain(piece: Piece, line: Path, within_deg: float = STRAIGHT_DEG) -> bool:
    """Tell whether a line runs along a piece's grain from end to end, within so many degrees."""
    chord = line.end - line.start
    return abs(piece.up.cross(chord)) < math.sin(math.radians(within_deg)) * chord.norm


def points_on(piece: Piece, line: Path) -> tuple[str, ...]:
    """Return the named points on a straight line, run on at both ends; marks before corners."""
    along = (line.end - line.start).unit
    marks = {m.name for m in piece.marks}
    near = [
        n
        for n in piece.named_points()
        if abs(along.cross(piece.point(n) - line.start)) <= ON_LINE_MM
    ]
    return tuple(sorted(near, key=lambda n: n not in marks))


def runs_up(pattern: Pattern, seam: Seam) -> bool:
    """Tell whether a seam runs up the body more than across it, by the grain of its first piece."""
    piece = pattern.piece(seam.a[0].piece)
    path = pattern.edge(seam.a[0]).path
    chord = path.end - path.start
    return abs(piece.up.dot(chord)) > abs(piece.up.cross(chord))


def called(names: Sequence[str]) -> str:
    """Return the words that names share: what the thing is called whose parts they are.

    >>> called(["coat front", "coat back"]), called(["front", "back"])
    ('coat', '')
    """
    first, *others = [n.split() for n in names]
    return " ".join(w for w in first if all(w in other for other in others))
