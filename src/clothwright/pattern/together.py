"""Which pieces go together, read from names, cuts, seams and lengths; and what was left behind.

Nothing is taken for granted: what is found is for the maker to say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwright.pattern.companions import (
    LAID,
    EdgeKey,
    as_drawn,
    companions,
    end_to_end,
    longer_by,
    too_long,
)
from clothwright.pattern.measure import net_length
from clothwright.pattern.parts import facing_names
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import EdgeRef

Refs = tuple[EdgeRef, ...]
KINDS = {
    "interfacing": "interfacing",
    "interlining": "interfacing",
    "facing": "facing",
    "lining": "lining",
    "waistband": "waistband",
    "neckband": "stand",
    "stand": "stand",
    "collar": "collar",
    "binding": "binding",
    "band": "binding",
    "flap": "flap",
    "pocket": "pocket",
}
"""What a piece is by a word of its name (trade words), the first that it has."""
AFTER = (
    ("facing", "lining", "stand", "waistband"),
    ("collar", "binding"),
    ("interfacing", "pocket", "flap"),
)
"""A companion follows what is made before it: a stand the neck, a collar the stand."""
NEAR = 0.12
"""Share of a length: edges of one name that differ more do not lie along each other (our own)."""


def proposed(pattern: Pattern) -> tuple[Companion, ...]:
    """Return what may go together and is not said yet, in the order of the pieces."""
    said = {c.piece for c in pattern.companions}
    return tuple(
        as_drawn(pattern, Companion(piece=p.name, kind=kind, of=of))
        for p in pattern.pieces
        if p.name not in said and (kind := kind_of(pattern, p)) and (of := _along(pattern, p, kind))
    )


def kind_of(pattern: Pattern, piece: Piece) -> str:
    """Return what a piece is to others, by its name, its cuts or its seam; "" for a shell piece."""
    words = piece.name.lower().replace("-", " ").split()
    named = next((kind for word, kind in KINDS.items() if word in words), "")
    materials = {c.material for c in piece.cuts}
    alone = next((m for m in ("lining", "interfacing") if materials == {m}), "")
    return named or alone or ("facing" if piece.name in facing_names(pattern) else "")


def _along(pattern: Pattern, piece: Piece, kind: str) -> tuple[Along, ...]:
    """Return what a piece lies along: what it is sewn to, else the piece it is called after."""
    sewn = tuple(a for s in pattern.seams for a in _sewn(pattern, s, piece.name, kind))
    if kind not in LAID:
        return sewn or _pocketed(pattern, piece, kind)
    like = _called_like(pattern, piece, kind)
    if like is None:
        return sewn
    done = {(a.edge, a.piece) for a in sewn}
    laid = (a for a in _edge_on_edge(piece, like) if (a.edge, a.piece) not in done)
    return (*sewn, *laid)


def _sewn(pattern: Pattern, seam: Seam, piece: str, kind: str) -> Iterator[Along]:
    """Yield what a companion is sewn along in one seam, its own kind left out."""
    if kind in ("lining", "interfacing") or (kind == "facing" and seam.kind != "facing"):
        return
    for own, there in ((seam.a, seam.b), (seam.b, seam.a)):
        first = all(_rank(kind_of(pattern, pattern.piece(r.piece))) < _rank(kind) for r in there)
        if first and {r.piece for r in own} == {piece}:
            yield from _pairs(own, there)


def _rank(kind: str) -> int:
    """Return after how many others a kind of piece is made: a collar after its stand."""
    return next((n for n, kinds in enumerate(AFTER, start=1) if kind in kinds), 0)


def _pairs(own: Refs, there: Refs) -> Iterator[Along]:
    """Yield edge for edge, or one edge along several."""
    if len(own) == 1:
        yield from (Along(edge=own[0].edge, piece=o.piece, edge_of=o.edge) for o in there)
    elif len(own) == len(there):
        for r, o in zip(own, there, strict=True):
            yield Along(edge=r.edge, piece=o.piece, edge_of=o.edge)


def _called_like(pattern: Pattern, piece: Piece, kind: str) -> Piece | None:
    """Return the piece that one is called after and has edges in common with, most of all."""
    inner = ("interfacing", "lining") if kind == "interfacing" else LAID
    best: tuple[float, Piece] | None = None
    for other in pattern.pieces:
        if other.name == piece.name or kind_of(pattern, other) in inner:
            continue
        words, edges = len(_words(piece) & _words(other)), len(tuple(_edge_on_edge(piece, other)))
        score = edges + 2.0 * words
        if words and edges and (best is None or score > best[0]):
            best = (score, other)
    return best[1] if best else None


def _words(piece: Piece) -> set[str]:
    return set(piece.name.lower().split()) - set(KINDS)


def alongside(piece: Piece, other: Piece) -> tuple[Along, ...]:
    """Return what one piece lies along another by, edge on edge; else the two as wholes."""
    return tuple(_edge_on_edge(piece, other)) or (Along(piece=other.name),)


def _edge_on_edge(piece: Piece, other: Piece) -> Iterator[Along]:
    """Yield the edges of two pieces that have one name and about one length."""
    theirs = {e.name: net_length(other, e.name) for e in other.edges if e.role is not Role.FOLD}
    for edge in piece.edges:
        length, there = net_length(piece, edge.name), theirs.get(edge.name, 0.0)
        if edge.role is not Role.FOLD and there and abs(length - there) <= NEAR * there:
            yield Along(edge=edge.name, piece=other.name, edge_of=edge.name)


def _pocketed(pattern: Pattern, piece: Piece, kind: str) -> tuple[Along, ...]:
    """Return the piece on which the place of a pocket or a flap is marked."""
    if kind not in ("pocket", "flap"):
        return ()
    marked = (p.name for p in pattern.pieces if any(kind in m.name.lower() for m in p.marks))
    return tuple(Along(piece=name) for name in marked if name != piece.name)


# --- what was left behind -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftBehind:
    """An edge of a companion that is not as long as meant beside what it lies along.

    companion: with what this edge lies along alone. measured: mm, darts folded out; expected: what
    it should be, by what it lies along.
    """

    companion: Companion
    edge: str
    measured: float
    expected: float


def left_behind(
    pattern: Pattern, agree: float, bought: Pattern | None = None
) -> Iterator[LeftBehind]:
    """Yield what does not follow any more; darts folded out. agree: mm that is no difference.

    Edges that lie end to end along one are held against it together, where it is known how long
    that was as bought; else one that follows speaks for all.
    """
    held = [(c, edge) for c in companions(pattern) for edge in dict.fromkeys(a.edge for a in c.of)]
    off = {(c.piece, edge): too_long(pattern, c, edge) for c, edge in held if edge}
    for there, own in end_to_end(pattern):
        off |= _shared_off(pattern, bought, there, {k: off[k] for k in own})
    for companion, edge in held:
        by = off.get((companion.piece, edge), 0.0)
        if abs(by) > agree:
            mine = net_length(pattern.piece(companion.piece), edge)
            yield LeftBehind(
                companion=replace(companion, of=tuple(a for a in companion.of if a.edge == edge)),
                edge=edge,
                measured=mine,
                expected=mine - by,
            )


def _shared_off(
    pattern: Pattern, bought: Pattern | None, there: EdgeKey, off: dict[EdgeKey, float]
) -> dict[EdgeKey, float]:
    """Return by how much edges are off that lie end to end along one: all of it at one of them.

    off: mm by which each is off if the whole line were its own.
    """
    if len(off) == 1:
        return dict.fromkeys(off, 0.0)
    was = next((p for p in bought.pieces if p.name == there[0]), None) if bought else None
    if bought and was is not None and any(e.name == there[1] for e in was.edges):
        gained = net_length(pattern.piece(there[0]), there[1]) - net_length(was, there[1])
        meant = [longer_by(pattern, k) - longer_by(bought, k) for k in off]
        by = sum(off.values()) + (len(off) - 1) * (gained + max(meant, key=abs))
    else:
        by = min(off.values(), key=abs)
    most = max(off, key=lambda k: abs(off[k]))
    return {k: by if k == most else 0.0 for k in off}
