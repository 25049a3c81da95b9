"""A piece and its edges in words: how it is cut, how its grain lies, what an edge is sewn to."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.fullness import difference, fuller, fullness
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, NotchKind, Piece, Role
from clothwright.units import Unit
from clothwright.words import refs_name, say

ROLES = {
    Role.SEAM: "seam",
    Role.HEM: "hem",
    Role.FOLD: "fold",
    Role.CENTRE: "centre",
    Role.BOUND: "bound",
    Role.RAW: "raw edge",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnTo:
    """What an edge is sewn to: the seam's name, the other side, the ease, all in words."""

    seam: str
    other: str
    ease: str


def grain_words(piece: Piece) -> str:
    """Say how the grain lies."""
    if piece.grain is None:
        return "no grain line yet"
    fold = piece.fold
    if fold is not None and abs(piece.grain.direction.cross(fold.path.start_tangent)) < 0.01:
        return "along the fold"
    if abs(piece.grain.direction.x) < 0.01:
        return "up and down as drawn"
    if abs(piece.grain.direction.y) < 0.01:
        return "across as drawn"
    return "aslant as drawn"


def sewn_to(pattern: Pattern, piece: Piece, edge: Edge, unit: Unit) -> tuple[SewnTo, ...]:
    """Return what an edge is sewn to, seam by seam."""
    out = []
    for seam in pattern.seams_of(piece.name, edge.name):
        mine = any((r.piece, r.edge) == (piece.name, edge.name) for r in seam.a)
        here, other = (seam.a, seam.b) if mine else (seam.b, seam.a)
        if len(here) == len(other):  # edge for edge: only the one that this edge meets
            at = [(r.piece, r.edge) for r in here].index((piece.name, edge.name))
            other = other[at : at + 1]
        how = fullness(pattern, seam)
        which = "this side" if here == fuller(seam) else "the other side"
        ease = say((f"{which} is ", *difference(seam), ", ", *how), unit) if how else ""
        words = refs_name((r.piece, r.edge) for r in other)
        out.append(SewnTo(seam=seam.name, other=words, ease=ease))
    return tuple(out)


def notch_words(edge: Edge) -> str:
    """Name the notches that have a name, count the others."""
    named = [f"{n.name} ({n.kind.value})" for n in edge.notches if n.name]
    plain = [n.kind for n in edge.notches if not n.name]
    counts = [f"{plain.count(kind)} {kind.value}" for kind in NotchKind if kind in plain]
    return ", ".join((*named, *counts))
