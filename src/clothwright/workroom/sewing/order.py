"""The order of sewing: what is joined to what, in the order in which it is usually done.

The order of the kinds is common practice, without a source: darts first, long seams before those
that cross them, facings and closures before sleeves, hems last. The sheet that came with a pattern
goes before it.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import show_length

ORDER = ("plain", "closure", "facing", "cap", "lining", "hem")
"""Kinds of seams in the order of the work."""
HOW = {
    "plain": "Sew {a} to {b}",
    "closure": "Put in the closure: {a} and {b}",
    "facing": "Sew the facing {b} to {a}",
    "cap": "Set the sleeve: {b} into {a}",
    "lining": "Sew the lining {b} to {a}",
    "hem": "Hem: {a} to {b}",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SewStep:
    """One step. key: its lasting name for a tick. words: what is done. more: what to mind."""

    key: str
    name: str
    words: str
    more: str = ""


def sew_steps(pattern: Pattern, unit: Unit) -> tuple[SewStep, ...]:
    """Return the steps of sewing: darts, then the seams by kind, as listed within a kind."""
    darts = tuple(
        SewStep(
            key=f"sew dart {piece.name}.{dart.name}",
            name=dart.name,
            words=f"Sew the {dart.name} of the {piece.name}, from its open end to its point.",
            more="Press it over a rounded pad before the seams that cross it.",
        )
        for piece in pattern.pieces
        for dart in piece.darts
    )
    seams = sorted(pattern.seams, key=lambda s: ORDER.index(s.kind))
    return (*darts, *(_step(pattern, seam, unit) for seam in seams), *_hems(pattern, unit))


def _step(pattern: Pattern, seam: Seam, unit: Unit) -> SewStep:
    words = HOW[seam.kind].format(a=_side(seam.a), b=_side(seam.b)) + "."
    more = [_allowances(pattern, seam, unit)]
    if seam.ease > 0:
        between = (
            f" between the notches {seam.ease_from} and {seam.ease_to}"
            if seam.ease_from and seam.ease_to
            else ""
        )
        more.append(
            f"The {_side(seam.b)} is {show_length(seam.ease, unit)} longer: ease it in{between}."
        )
    return SewStep(
        key=f"sew seam {seam.name}",
        name=seam.name,
        words=words,
        more=" ".join(m for m in more if m),
    )


def _side(refs: tuple[EdgeRef, ...]) -> str:
    """Return "front side", "front shoulder and back shoulder"."""
    return " and ".join(f"{r.piece}, {r.edge}" for r in refs)


def _allowances(pattern: Pattern, seam: Seam, unit: Unit) -> str:
    """Say the seam allowance of a seam, once where both sides have the same."""
    found = [
        [pattern.piece(r.piece).edge(r.edge).allowance for r in side] for side in (seam.a, seam.b)
    ]
    sizes = sorted({round(x, 3) for side in found for x in side})
    if len(sizes) == 1:
        return f"Allowance {show_length(sizes[0], unit)}."
    if all(len(set(side)) == 1 for side in found):
        return (
            f"Allowance {show_length(found[0][0], unit)} on the first, "
            f"{show_length(found[1][0], unit)} on the second."
        )
    return "The allowances differ: " + ", ".join(show_length(s, unit) for s in sizes) + "."


def _hems(pattern: Pattern, unit: Unit) -> tuple[SewStep, ...]:
    """Return the hems that no seam names: each edge turned up by its own allowance."""
    sewn = {(r.piece, r.edge) for s in pattern.seams for r in (*s.a, *s.b)}
    out = []
    for piece in pattern.pieces:
        for edge in piece.edges:
            if edge.role.value != "hem" or (piece.name, edge.name) in sewn or edge.allowance <= 0:
                continue
            up = show_length(edge.allowance, unit)
            out.append(
                SewStep(
                    key=f"sew hem {piece.name}.{edge.name}",
                    name=edge.name,
                    words=f"Hem the {piece.name} ({edge.name}): turn up {up}.",
                    more="Let it hang for a day first, and measure from the floor.",
                )
            )
    return tuple(out)
