"""What is sewn to a changed piece, or goes with it, and by how much it has to follow."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.changes.reach import FOLLOWS_MM, reaches, reaches_edge, touched
from clothwright.pattern.buttons import button_rows
from clothwright.pattern.companions import (
    LAID,
    EdgeKey,
    companions,
    companions_of,
    end_to_end,
    too_long,
)
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.since import AGREE_MM
from clothwright.pattern.walk import walk_seam
from clothwright.words import Sentence, edge_name, listed, refs_name


def partners(before: Pattern, after: Pattern) -> Sentence:
    """Say of each seam and companion by how much its other side has to be longer or shorter now.

    "" where nothing has to follow, or what was off agrees now. A sleeve's cap is told by its ease.
    What goes with a changed piece and was not changed with it is named too. Lengths in mm, darts
    folded out.
    """
    alike = (*_alike(before, after), *spaced_anew(before, after))
    asked = dict(_followers(before, after))
    if not asked:
        return alike
    parts: list[str | float] = [" Now make "]
    for n, (name, by) in enumerate(asked.items()):
        parts += [", and " if n else "", f"{name} ", abs(by), " longer" if by > 0 else " shorter"]
    return (*parts, ", to go with it.", *_eases(before, after), *alike)


def spaced_anew(before: Pattern, after: Pattern) -> Sentence:
    """Ask to space the buttons anew on each piece where some lie farther apart than they did."""
    old = {p.name: p for p in before.pieces}
    names = [
        p.name for p in after.pieces if p.name in old and _spread(before, old[p.name], after, p)
    ]
    return (f" Space the buttons of {listed(names)} anew.",) if names else ()


def _spread(before: Pattern, old: Piece, after: Pattern, new: Piece) -> bool:
    """Tell whether some gaps of a row of buttons grew or shrank, and not all of them alike."""
    rows = (
        [] if old is new else zip(button_rows(before, old), button_rows(after, new), strict=False)
    )
    grown = [[now - then for then, now in zip(a.gaps, b.gaps, strict=False)] for a, b in rows]
    return any(max(by) - min(by) >= FOLLOWS_MM for by in grown if by)


def _alike(before: Pattern, after: Pattern) -> Sentence:
    """Name what lies on a changed piece and is as it was, where the change reaches it."""
    new, old = touched(before, after), {p.name for p in before.pieces}
    pairs = [
        (p.name, c.piece)
        for p in after.pieces
        if p.name in new & old
        for c in companions_of(after, p.name)
        if c.piece not in new
        and c.kind in LAID
        and reaches(before, after, p.name, c)
        and not _followed(before, after, c)
    ]
    if not pairs:
        return ()
    changed, asked = (listed(list(dict.fromkeys(names))) for names in zip(*pairs, strict=True))
    return (f" Change {asked} in the same way, to go with {changed}.",)


def _followed(before: Pattern, after: Pattern, companion: Companion) -> bool:
    """Tell whether its piece came to lie along a companion that was off: that needs no change."""
    edges = {a.edge for a in companion.of if a.edge}
    was, now = (
        max((abs(too_long(p, companion, e)) for e in edges), default=0.0) for p in (before, after)
    )
    return was >= FOLLOWS_MM > now


def _followers(before: Pattern, after: Pattern) -> Iterator[tuple[str, float]]:
    """Yield what has to follow, in words, and by how much."""
    for seam in _touched(before, after):
        a, b = _grown(before, after, seam)
        by = a - b + seam.ease - before.seam(seam.name).ease
        lacks = -walk_seam(after, seam).off
        if abs(by) >= FOLLOWS_MM and abs(lacks) >= AGREE_MM and by * lacks > 0.0:
            by = min(by, lacks, key=abs)
            partner = seam.b if abs(a) >= abs(b) else seam.a
            by = by if partner is seam.b else -by
            yield refs_name([(r.piece, r.edge) for r in partner]), by
    yield from _along(before, after)


def _touched(before: Pattern, after: Pattern) -> Iterator[Seam]:
    """Yield the seams that are others, or of which a piece is another one: no other has grown."""
    new, known = touched(before, after), set(before.seams)
    yield from (s for s in after.seams if s.pieces & new or s not in known)


def _along(before: Pattern, after: Pattern) -> Iterator[tuple[str, float]]:
    """Yield what lies along a changed edge and is not sewn; what shares one, told together."""
    shared, sewn, ties = list(end_to_end(after)), after.sewn, _ties(after)
    parts = {key for _, own in shared for key in own}
    for there, own in shared:
        by = _edge_grown(before, after, *there)
        lag = by - sum(_edge_grown(before, after, *key) for key in own)
        if len(own) > 1 and abs(by) >= FOLLOWS_MM <= abs(lag) and not sewn.intersection(own):
            at = [k for k in own if reaches_edge(before, after, k[0], ties[k])] or list(own)
            yield f"{refs_name(at)}{' together' if len(at) > 1 else ''}", lag
    for companion in companions(after):
        for of in (a for a in companion.of if a.edge):
            key = companion.piece, of.edge
            by = _edge_grown(before, after, of.piece, of.edge_of)
            lag = by - _edge_grown(before, after, *key)
            if abs(by) >= FOLLOWS_MM <= abs(lag) and key not in sewn and key not in parts:
                yield edge_name(*key), lag


def _ties(pattern: Pattern) -> dict[EdgeKey, Along]:
    """Return what each edge of a companion lies along, the last of several."""
    return {(c.piece, a.edge): a for c in companions(pattern) for a in c.of if a.edge}


def _grown(before: Pattern, after: Pattern, seam: Seam) -> tuple[float, float]:
    """Return by how much each side of a seam is longer than it was, mm."""
    return (
        side(after, seam.a).length - side(before, seam.a).length,
        side(after, seam.b).length - side(before, seam.b).length,
    )


def _edge_grown(before: Pattern, after: Pattern, piece: str, edge: str) -> float:
    now, then = after.piece(piece), before.piece(piece)
    return 0.0 if now is then else net_length(now, edge) - net_length(then, edge)


def _eases(before: Pattern, after: Pattern) -> Sentence:
    """Say how the ease of a cap changes as long as it does not follow."""
    said: list[str | float] = []
    for seam in (s for s in _touched(before, after) if s.kind == "cap"):
        a, b = _grown(before, after, seam)
        if abs(b - a) >= FOLLOWS_MM:
            names = refs_name([(r.piece, r.edge) for r in seam.b])
            said += [f" Left as it is, {names} is eased by ", abs(b - a)]
            said.append(" more." if b > a else " less.")
    return tuple(said)
