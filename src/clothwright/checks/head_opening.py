"""Does the head get through a neckline that does not open?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each
from clothwright.pattern.closing import closings
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.measure import net_length
from clothwright.pattern.parts import facing_names, held_together, is_strip
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.words import counted, listed

ID = "head-opening"

STRETCH = 1.35
"""How many times its length a knitted neckline may be drawn out to: 35 %, a moderate knit (home
sewing chart of stretch classes)."""


class Neckline(NamedTuple):
    """A neckline that does not open. girth: mm all round, darts folded out; edges: where it is."""

    girth: float
    edges: tuple[tuple[str, str], ...]


def head_opening(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare each closed neckline with the wearer's head."""
    head = dict(settings.body).get("head", 0.0)
    if head:
        yield from each(
            ID,
            closed_necklines(pattern),
            lambda n: Where(piece=n.edges[0][0], edge=n.edges[0][1]),
            lambda n: _neckline(n, head, stretches=settings.stretches),
        )


def closed_necklines(pattern: Pattern) -> tuple[Neckline, ...]:
    """Return the necklines of garments that do not open: shell pieces that flat seams join."""
    inside = facing_names(pattern)
    shell = [
        p.name
        for p in pattern.pieces
        if p.name not in inside
        and not is_strip(p)
        and (not p.cuts or any(c.material == "shell" for c in p.cuts))
    ]
    opens = {c.piece.name for c in closings(pattern)}
    found = []
    for group in held_together(pattern, shell, kinds=("plain", "cap")):
        pieces = [pattern.piece(name) for name in group]
        necks = [(p, e) for p in pieces for e in p.edges if "neck" in e.name.lower().split()]
        if necks and not opens & set(group) and not _has_zip(pattern, set(group)):
            girth = sum(net_length(p, e.name) * _times(p) for p, e in necks)
            found.append(Neckline(girth, tuple((p.name, e.name) for p, e in necks)))
    return tuple(found)


def _times(piece: Piece) -> int:
    """Return how often an edge of a piece goes round: twice for a pair or half a piece."""
    return 2 if piece.fold is not None or any(c.how == "pair" for c in piece.cuts) else 1


def _has_zip(pattern: Pattern, group: set[str]) -> bool:
    """Tell whether something on a garment says that it opens: a closure, a zip, buttons."""
    pieces = [pattern.piece(name) for name in group]
    names = [m.name for p in pieces for m in p.marks]
    names += [n.name for p in pieces for e in p.edges for n in e.notches]
    told = any(word in name.lower() for name in names for word in ("zip", "button", "opening"))
    return told or any(s.kind == "closure" and s.pieces & group for s in pattern.seams)


def _neckline(neck: Neckline, head: float, *, stretches: bool) -> Iterator[Finding]:
    most = neck.girth * (STRETCH if stretches else 1.0)
    if most >= head:
        return
    drawn = (f", drawn out to {STRETCH - 1:.0%} more,",) if stretches else ()
    yield Finding(
        code="neck-too-small",
        severity=Severity.NOTICE if stretches else Severity.FAULT,
        where=Where(piece=neck.edges[0][0], edge=neck.edges[0][1]),
        measured=neck.girth,
        expected=head,
        unit="mm",
        words=(
            f"The neckline of {listed([p for p, _ in neck.edges])}", *drawn, " measures ", most,
            " round, the head ", head, ": it does not get through. Lower or widen the neck, or "
            "let it open.",
        ),
    )  # fmt: skip


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the closed necklines; say so where the head was not measured."""
    necks = len(closed_necklines(pattern)) if pattern.seams else 0
    if necks and "head" not in dict(settings.body):
        never = "Whether the head gets through the neck, which does not open: it was not measured."
        return LookedAt(0, "", (never,))
    return LookedAt(necks, counted(necks, "neckline") if necks else "")


CHECK = Check(
    id=ID,
    title="Does the head get through a neckline that does not open?",
    why="A garment that does not open has to go over the head.",
    source="The opening has to be as wide as what passes through it; a moderate knit stretches by "
    "35 % (docs/checks/head-opening.md).",
    codes=("neck-too-small", f"{ID}-skipped"),
    run=head_opening,
    looked=looked,
    of_body=True,
)
