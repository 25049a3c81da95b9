"""Finished girths: how far round a garment goes at a level, darts folded, without allowances."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from clothwright.geometry.intersect import line_crossings
from clothwright.pattern.measure import run_length
from clothwright.pattern.opposite import opposite
from clothwright.pattern.parts import held_together
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.together import kind_of
from clothwright.pattern.width import level_edge, width_along, width_at

LIMBS = {
    **dict.fromkeys(("biceps", "elbow", "wrist"), "arm"),
    **dict.fromkeys(("thigh", "knee", "calf"), "leg"),
}
"""Levels that go round one arm or leg, and which; of a pair of pieces one belongs to each."""

SHELL = "shell"
WAIST, NECK, WRIST = "waist", "neck", "wrist"
ROUND_NECK = ("stand", "collar")
"""What is sewn to a neck that closes round the throat."""


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

    Where no piece has the level, the edges that lie there tell: a skirt's or trousers' waist, a
    neck with a collar or a stand, a sleeve's wrist or the cuff that it is sewn to.
    """
    groups = _garments(pattern)
    found: list[Girth] = []
    for level in levels:
        for group in groups:
            mine = [p for p in group if any(lv.name == level for lv in p.levels)]
            lower = not any(lv.name == "bust" for p in group for lv in p.levels)
            if mine:
                found.append(_girth(pattern, level, mine, lower=lower))
            elif edges := _edges_at(pattern, level, group, lower=lower):
                found.append(_along(pattern, level, edges, lower=lower))
    return tuple(found)


def _edges_at(
    pattern: Pattern, level: str, group: list[Piece], *, lower: bool
) -> list[tuple[Piece, Edge]]:
    """Return the edges of a garment that lie at a level, by their name; none that do not close."""
    if level == WAIST and lower:
        return [(p, e) for p in group for e in p.edges if e.name == WAIST]
    if level not in (NECK, WRIST):
        return []
    named = [
        (p, e)
        for p in group
        if not kind_of(pattern, p)
        for e in p.edges
        if level in e.name.lower().split()
    ]
    if level == NECK and not any(_has_collar(pattern, p, e) for p, e in named):
        return []
    return named


def _has_collar(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    sewn = {name for s in pattern.seams_of(piece.name, edge.name) for name in s.pieces}
    return any(kind_of(pattern, pattern.piece(name)) in ROUND_NECK for name in sewn)


def _along(pattern: Pattern, level: str, edges: list[tuple[Piece, Edge]], *, lower: bool) -> Girth:
    """Return the girth along edges, up to the marked centre, darts sewn."""
    loose = [p.name for p, _ in edges if not any(p.name in s.pieces for s in pattern.seams)]
    cuffs = _cuffs(pattern, edges) if level == WRIST else []
    pieces = dict.fromkeys(p.name for p, _ in edges)
    mm = sum(width_along(p, e) * _share(p, level) for p, e in edges)
    if cuffs:  # what is longer there is gathered, pleated or eased into the cuff
        mm = sum(min(run_length(pattern, s.a), run_length(pattern, s.b)) for s in cuffs)
        pieces = dict.fromkeys(name for s in cuffs for name in sorted(s.pieces - set(pieces)))
    return Girth(
        missing=f'"{loose[0]}" is not sewn to anything yet' if loose else "",
        level=level,
        mm=mm,
        pieces=tuple(pieces),
        lower=lower,
    )


def _cuffs(pattern: Pattern, edges: list[tuple[Piece, Edge]]) -> list[Seam]:
    """Return the seams that take a wrist into a cuff."""
    pieces = {p.name for p, _ in edges}
    seams = {s.name: s for p, e in edges for s in pattern.seams_of(p.name, e.name)}
    return [s for s in seams.values() if s.kind == "plain" and s.pieces - pieces]


def _girth(pattern: Pattern, level: str, pieces: list[Piece], *, lower: bool) -> Girth:
    return Girth(
        level=level,
        mm=sum(width_at(p, level, _open(pattern, p)) * _share(p, level) for p in pieces),
        pieces=tuple(p.name for p in pieces),
        lower=lower,
        missing=_missing(pattern, level, pieces),
    )


def _open(pattern: Pattern, piece: Piece) -> set[str]:
    """Return the edges of a piece that nothing closes: at most a strip or a facing is sewn on."""
    seams = {e.name: pattern.seams_of(piece.name, e.name) for e in piece.edges}
    return {name for name, on in seams.items() if all(s.kind == "facing" for s in on)}


def _garments(pattern: Pattern) -> list[list[Piece]]:
    """Return the pieces of the shell that plain seams join, facings left out."""
    inside = {r.piece for s in pattern.seams if s.kind == "facing" for r in s.b}
    shell = [p.name for p in pattern.pieces if p.name not in inside and _is_shell(p)]
    groups = held_together(pattern, shell, kinds=("plain", "closure"))
    return [[pattern.piece(name) for name in group] for group in groups]


def _is_shell(piece: Piece) -> bool:
    return not piece.cuts or any(c.material == SHELL for c in piece.cuts)


def _share(piece: Piece, level: str) -> float:
    """Return how many widths of a piece go round: of a pair one goes round each arm or leg.

    Round a neck it is once or twice: a yoke that is cut more often lies double.
    """
    halves, copies = 2 if piece.fold is not None else 1, _copies(piece)
    if level == NECK:
        copies = 2 if any(c.how == "pair" for c in piece.cuts) else 1
    return halves * copies / (min(copies, 2) if level in LIMBS else 1)


def _copies(piece: Piece) -> int:
    """Return how often a piece is cut from the shell."""
    cut = next((c for c in piece.cuts if c.material == SHELL), None)
    return 1 if cut is None else cut.count * (2 if cut.how == "pair" else 1)


def _missing(pattern: Pattern, level: str, pieces: list[Piece]) -> str:
    """Return why the pieces with a level do not go all round; "" when they do."""
    names = {p.name for p in pieces}
    for piece in pieces:
        sides = _sides(piece, level)
        if sides and not any((piece.name, side) in pattern.sewn for side in sides):
            return f'"{piece.name}" is not sewn to anything yet'
    for piece in pieces:
        for edge, at in _crossed(piece, level):
            for beside in _beside(pattern, piece.name, edge, at):
                if not names & beside:
                    other = min(beside)
                    return f'"{other}" has no {level} line, and is sewn to "{piece.name}" there'
    return ""


def _sides(piece: Piece, level: str) -> list[str]:
    """Return the edges at both sides of a piece at a level, without one on the fold."""
    edge = level_edge(piece, level)
    sides = [name for name, _ in _crossed(piece, level)]
    if edge is not None:
        sides = [e.name for e in piece.neighbours(edge.name)]
    folded = piece.fold
    return [name for name in sides if folded is None or name != folded.name]


def _crossed(piece: Piece, level: str) -> list[tuple[str, float]]:
    """Return the edges that a level runs over, and where it first meets each, mm along it."""
    if level_edge(piece, level) is not None:
        return []
    at, across = piece.level(level).at, piece.up.perp
    met = [(e.name, line_crossings(e.path, at, across)) for e in piece.edges]
    return [(name, places[0].at_a) for name, places in met if places]


def _beside(pattern: Pattern, piece: str, edge: str, at: float) -> Iterator[set[str]]:
    """Yield for each plain seam along an edge the pieces that meet a place on it.

    They are two where the place lies near a joint, or where what is eased lies beyond it. Where it
    is an opening, its other side closes it: a strip that faces it does not go round.
    """
    seams = pattern.seams_of(piece, edge)
    closes = any(s.kind == "closure" for s in seams)
    for seam in seams:
        if seam.kind == "plain" and not closes:
            yield {
                opposite(pattern, seam, piece, edge, at, from_end=e).piece for e in (True, False)
            }
