"""What is sewn to a changed piece, or goes with it, and by how much it has to follow."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.geometry.path import Path
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.buttons import button_rows
from clothwright.pattern.companions import LAID, companions, companions_of, end_to_end
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Companion, Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.walk import walk_seam
from clothwright.words import Sentence, edge_name, listed, refs_name

FOLLOWS_MM = 1.0
"""mm: less than this is left to the cloth; in the walk, up to 1.5 mm agree."""

TURNED_DEG = 1.0
"""degrees: a corner that turns by less is as it was."""
SPANS = ((0.0, 0.5), (0.5, 1.0), (0.0, 1.0))
"""Shares of a line between which it is measured to tell its shape."""


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
    """Name what lies on a changed piece and is as it was; a facing where the change reaches it."""
    old = {p.name: p for p in before.pieces}
    stay = {p.name for p in after.pieces if old.get(p.name) is p}
    pairs = [
        (p.name, c.piece)
        for p in after.pieces
        if p.name in old and p.name not in stay
        for c in companions_of(after, p.name)
        if c.piece in stay and c.kind in LAID and _reaches(old[p.name], p, c)
    ]
    if not pairs:
        return ()
    changed, asked = (listed(list(dict.fromkeys(names))) for names in zip(*pairs, strict=True))
    return (f" Change {asked} in the same way, to go with {changed}.",)


def _reaches(before: Piece, after: Piece, companion: Companion) -> bool:
    """Tell whether a change reaches what lies on a piece: a facing lies along its edges only."""
    along = [a.edge_of for a in companion.of if a.edge_of]
    if companion.kind != "facing" or not along:
        return True
    return any(
        _has_changed(before.edge(e).path, after.edge(e).path)
        or any(
            abs(now - then) >= TURNED_DEG
            for then, now in zip(*_corners(before, after, e), strict=True)
        )
        for e in along
    )


def _corners(before: Piece, after: Piece, edge: str) -> list[list[float]]:
    """Return how far the outline turns at the ends of an edge, before and after, degrees.

    Ends at the fold or the centre are left out: what is made there, a facing ends at.
    """
    found = []
    for piece in (before, after):
        path, (first, last) = piece.edge(edge).path, piece.neighbours(edge)
        ends = (
            (first.role, first.path.end_tangent, path.start_tangent),
            (last.role, path.end_tangent, last.path.start_tangent),
        )
        middle = (Role.FOLD, Role.CENTRE)
        found.append([turn_between_deg(a, b) for role, a, b in ends if role not in middle])
    return found


def _has_changed(before: Path, after: Path) -> bool:
    """Tell whether a line has another shape, wherever it lies now."""
    spans = [
        [line.point_at(line.length * a).distance(line.point_at(line.length * b)) for a, b in SPANS]
        for line in (before, after)
    ]
    return any(abs(now - then) >= FOLLOWS_MM for then, now in zip(*spans, strict=True))


def _followers(before: Pattern, after: Pattern) -> Iterator[tuple[str, float]]:
    """Yield what has to follow, in words, and by how much."""
    for seam in _touched(before, after):
        a, b = _grown(before, after, seam)
        by = a - b + seam.ease - before.seam(seam.name).ease
        if abs(by) >= FOLLOWS_MM and abs(walk_seam(after, seam).off) >= FOLLOWS_MM:
            partner = seam.b if abs(a) >= abs(b) else seam.a
            by = by if partner is seam.b else -by
            yield refs_name([(r.piece, r.edge) for r in partner]), by
    yield from _along(before, after)


def _touched(before: Pattern, after: Pattern) -> Iterator[Seam]:
    """Yield the seams that are others, or of which a piece is another one: no other has grown."""
    old = {p.name: p for p in before.pieces}
    new = {p.name for p in after.pieces if old.get(p.name) is not p}
    known = set(before.seams)
    yield from (s for s in after.seams if s.pieces & new or s not in known)


def _along(before: Pattern, after: Pattern) -> Iterator[tuple[str, float]]:
    """Yield what lies along a changed edge and is not sewn; what shares one, told together."""
    shared, sewn = list(end_to_end(after)), after.sewn
    parts = {key for _, own in shared for key in own}
    for there, own in shared:
        by = _edge_grown(before, after, *there)
        lag = by - sum(_edge_grown(before, after, *key) for key in own)
        if len(own) > 1 and abs(by) >= FOLLOWS_MM <= abs(lag) and not sewn.intersection(own):
            yield f"{refs_name(own)} together", lag
    for companion in companions(after):
        for of in (a for a in companion.of if a.edge):
            key = companion.piece, of.edge
            by = _edge_grown(before, after, of.piece, of.edge_of)
            lag = by - _edge_grown(before, after, *key)
            if abs(by) >= FOLLOWS_MM <= abs(lag) and key not in sewn and key not in parts:
                yield edge_name(*key), lag


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
