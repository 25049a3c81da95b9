"""The walk table: every seam with both lengths and its difference; one seam from mark to mark."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.drawing.seam_walked import (
    Walked,
    difference_words,
    ease_words,
    walked,
)
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.fullness import planned_words
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, run_name, walk_seam
from clothwright.units import Unit
from clothwright.words import begun, edge_name, listed, show_difference, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamLine:
    """One seam in the table, lengths in words. kind: "good", "notice" or "bad".

    status: in words, with the numbers of what was found on it. found: the first of them, 0: none.
    """

    name: str
    a: str
    b: str
    length_a: str
    length_b: str
    ease: str
    difference: str
    status: str
    kind: str
    found: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionLine:
    """A section of a seam from mark to mark, lengths in words."""

    name: str
    a: str
    b: str
    difference: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamShown:
    """One seam walked. a, b: what its sides are called at the head of a column."""

    name: str
    words: str
    walked: Walked
    a: str
    b: str
    sections: tuple[SectionLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkTable:
    """Every seam, and the one looked at. missing: a seam that was asked for and is not there."""

    lines: tuple[SeamLine, ...]
    shown: SeamShown | None
    missing: str


def walk_table(
    pattern: Pattern, found: tuple[Finding, ...], wanted: str, unit: Unit, agree: float
) -> WalkTable:
    """Return the walk table of pieces, lengths in `unit`.

    found: what the checks found, in the order of their numbers. wanted: the seam to look at; the
    first one told of without it, else the first. agree: mm that is no difference.
    """
    chosen = next((s for s in pattern.seams if s.name == wanted), None)
    told = {f.where.seam for f in found}
    one = chosen or next((s for s in pattern.seams if s.name in told), None)
    one = one or next(iter(pattern.seams), None)
    return WalkTable(
        lines=tuple(_line(pattern, s, found, unit) for s in pattern.seams),
        shown=_shown(pattern, one, unit, agree) if one else None,
        missing=wanted if chosen is None else "",
    )


def _line(pattern: Pattern, seam: Seam, found: tuple[Finding, ...], unit: Unit) -> SeamLine:
    walk = walk_seam(pattern, seam)
    mine = [(n, f) for n, f in enumerate(found, 1) if f.where.seam == seam.name]
    status, kind = _status(mine)
    return SeamLine(
        name=seam.name,
        a=run_name(seam.a),
        b=run_name(seam.b),
        length_a=show_length(walk.a.length, unit),
        length_b=show_length(walk.b.length, unit),
        ease=_planned(seam, walk, unit),
        difference=show_difference(walk.off, unit, sign=True),
        status=status,
        kind=kind,
        found=mine[0][0] if mine else 0,
    )


def _status(mine: list[tuple[int, Finding]]) -> tuple[str, str]:
    """Return the weight of a seam's gravest finding with the numbers of all, and its kind."""
    if not mine:
        return "agrees", "good"
    fault = any(f.severity is Severity.FAULT for _, f in mine)
    numbers = listed([str(n) for n, _ in mine])
    return f"{'fault' if fault else 'notice'}, see {numbers}", "bad" if fault else "notice"


def _planned(seam: Seam, walk: Walk, unit: Unit) -> str:
    """Say the ease that is planned; of what is no ease, what it is."""
    more = "" if seam.join == "eased" else f" {planned_words(seam)}"
    return f"{ease_words(walk.meant, unit)}{more}"


def _shown(pattern: Pattern, seam: Seam, unit: Unit, agree: float) -> SeamShown:
    walk = walk_seam(pattern, seam)
    a, b = _heads(seam)
    difference = difference_words(seam, walk, unit)
    return SeamShown(
        name=seam.name,
        words=f"Above: {run_name(seam.a)}. Below: {run_name(seam.b)}. {begun(difference)}.",
        walked=walked(pattern, seam, unit, agree),
        a=a,
        b=b,
        sections=tuple(
            SectionLine(
                name=f"{s.start} to {s.end}",
                a=show_length(s.a, unit),
                b=show_length(s.b, unit),
                difference=show_difference(s.b - s.a, unit, sign=True),
            )
            for s in walk.sections
        ),
    )


def _heads(seam: Seam) -> tuple[str, str]:
    """Return what tells the two sides apart: their pieces, or their edges where those are one."""
    a, b = (listed(tuple(dict.fromkeys(r.piece for r in refs))) for refs in (seam.a, seam.b))
    return (a, b) if a != b else (_edges(seam.a), _edges(seam.b))


def _edges(refs: tuple[EdgeRef, ...]) -> str:
    return listed(tuple(r.edge for r in refs))


def loose_edges(pattern: Pattern) -> tuple[str, ...]:
    """Return the names of edges meant for a seam that no seam uses."""
    return tuple(
        edge_name(p.name, e.name)
        for p in pattern.pieces
        for e in p.edges
        if e.role is Role.SEAM and not pattern.seams_of(p.name, e.name)
    )
