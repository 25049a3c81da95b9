"""Pieces that go with others: facings, linings, bands; what they lie along, by today's names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.pattern.measure import net_length
from clothwright.pattern.names import Ref
from clothwright.pattern.past import called_now
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.refs import EdgeRef, parse_edge

LAID = ("interfacing", "facing", "lining")
"""Kinds that lie on what they go with, edge on edge; the others are sewn along it."""
EdgeKey = tuple[str, str]
"""A piece and its edge."""
UNSEEN_MM = 0.001
"""mm: a difference of no more is none."""
PART = 0.12
"""Share of a length by which an edge is shorter than another at least that covers it in part."""


def companions(pattern: Pattern) -> Iterator[Companion]:
    """Yield every companion by the names that it and its pieces have now.

    One whose piece is gone is left out, and so is what it lay along that is gone.
    """
    there = {(p.name, name) for p in pattern.pieces for name in ("", *(e.name for e in p.edges))}
    for each in pattern.companions:
        keys = {k for a in each.of for k in ((each.piece, a.edge), (a.piece, a.edge_of))}
        if keys <= there:
            yield each
            continue
        for name, _ in _edges(pattern, each.piece, "", there):
            own = tuple(a for of in each.of for a in _now(pattern, each.piece, of, name, there))
            if own:
                yield replace(each, piece=name, of=own)


def companion_names(pattern: Pattern) -> set[str]:
    """Return the pieces that go with another one."""
    return {c.piece for c in companions(pattern)}


def companions_of(pattern: Pattern, piece: str) -> tuple[Companion, ...]:
    """Return the companions that lie along a piece, with nothing but what they have along it."""
    found = ((c, tuple(a for a in c.of if a.piece == piece)) for c in companions(pattern))
    return tuple(replace(c, of=of) for c, of in found if of)


def without_piece(found: tuple[Companion, ...], piece: str) -> tuple[Companion, ...]:
    """Return companions without a piece that is taken out of the pattern as bought."""
    left = ((c, tuple(a for a in c.of if a.piece != piece)) for c in found if c.piece != piece)
    return tuple(replace(c, of=of) for c, of in left if of)


def difference(pattern: Pattern, companion: Companion, edge: str) -> float:
    """Return by how many mm an edge is longer than all that it lies along, darts folded out."""
    along = (a for a in companion.of if a.edge == edge)
    there = sum(net_length(pattern.piece(a.piece), a.edge_of) for a in along)
    return net_length(pattern.piece(companion.piece), edge) - there


def too_long(pattern: Pattern, companion: Companion, edge: str) -> float:
    """Return by how many mm an edge is longer than it is meant to be beside what it lies along."""
    return difference(pattern, companion, edge) - longer_by(pattern, (companion.piece, edge))


def longer_by(pattern: Pattern, own: EdgeKey) -> float:
    """Return by how many mm an edge is meant to be longer than what it lies along."""
    mine = (c for c in companions(pattern) if c.piece == own[0])
    return sum(a.longer for c in mine for a in c.of if a.edge == own[1])


def end_to_end(pattern: Pattern) -> Iterator[tuple[EdgeKey, tuple[EdgeKey, ...]]]:
    """Yield an edge, and those that cover it in part each: a facing and a lining share a hem.

    A facing alone covers what it covers, wherever the rest of that line grows; an interfacing too.
    A lining alone is meant to go along with all of it, and is the first: what is made wider is
    made so beside a facing.
    """
    parts: dict[tuple[EdgeKey, bool], list[tuple[str, EdgeKey, float]]] = {}
    for companion, a in ((c, a) for c in companions(pattern) if c.kind in LAID for a in c.of):
        alone = bool(a.edge) and sum(of.edge == a.edge for of in companion.of) == 1
        long = net_length(pattern.piece(a.piece), a.edge_of) if alone else 0.0
        if alone and a.longer < -PART * long:
            layer = (a.piece, a.edge_of), companion.kind == "interfacing"
            own = companion.kind, (companion.piece, a.edge), (long + a.longer) / long
            parts.setdefault(layer, []).append(own)
    for (there, _), found in parts.items():
        fits = sum(share for *_, share in found) <= 1.0 + PART
        if fits and [kind for kind, *_ in found] != ["lining"]:
            linings_first = sorted(found, key=lambda part: part[0] != "lining")
            yield there, tuple(key for _, key, _ in linings_first)


def as_drawn(pattern: Pattern, companion: Companion) -> Companion:
    """Return a companion whose edges are meant to differ as they do now.

    Of what one edge lies along, the first holds the difference.
    """
    told: set[str] = set()
    of = []
    for a in companion.of:
        first = bool(a.edge) and a.edge not in told
        told.add(a.edge)
        longer = round(difference(pattern, companion, a.edge), 3) if first else 0.0
        of.append(replace(a, longer=longer or 0.0))
    return replace(companion, of=tuple(of))


def as_before(before: Pattern, after: Pattern) -> Pattern:
    """Return a pattern after a change that what goes with its pieces need not follow.

    A seam left open is as long as it was sewn, an underlap lies outside the hem: each edge of a
    companion is meant to be as much longer than all it lies along as it was.
    """
    was = {
        (c.piece, a.edge): too_long(before, c, a.edge)
        for c in companions(before)
        for a in c.of
        if a.edge
    }
    now = list(companions(after))
    found = [_off_as(after, c, {e: by for (p, e), by in was.items() if p == c.piece}) for c in now]
    return after if found == now else replace(after, companions=tuple(found))


def _off_as(pattern: Pattern, companion: Companion, was: dict[str, float]) -> Companion:
    """Return a companion whose edges are too long by as much as is said, mm; others as now."""
    of: list[Along] = []
    for a in companion.of:
        first = a.edge in was and all(o.edge != a.edge for o in of)
        by = too_long(pattern, companion, a.edge) - was[a.edge] if first else 0.0
        of.append(replace(a, longer=round(a.longer + by, 3)) if abs(by) > UNSEEN_MM else a)
    return replace(companion, of=tuple(of))


def along_part(pattern: Pattern, piece: str, edge: str, part: str) -> Pattern:
    """Return a pattern in which what lies along an edge lies along a part cut off from it, too."""
    found = [replace(c, of=tuple(_with_part(c, piece, edge, part))) for c in companions(pattern)]
    lies = any(a.piece == piece and a.edge_of == edge for c in found for a in c.of)
    return replace(pattern, companions=tuple(found)) if lies else pattern


def _with_part(companion: Companion, piece: str, edge: str, part: str) -> Iterator[Along]:
    for a in companion.of:
        yield a
        if (a.piece, a.edge_of) == (piece, edge):
            yield replace(a, edge_of=part, longer=0.0)


def parse_along(text: str) -> Along:
    """Read "EDGE on PIECE.EDGE", or "PIECE" for the two as wholes. Raises BadInput.

    >>> parse_along("neck on front.neck"), parse_along("front").piece
    (Along(edge='neck', piece='front', edge_of='neck', longer=0.0), 'front')
    """
    edge, on, of = text.strip().rpartition(" on ")
    if on:
        ref = parse_edge(of)
        return Along(edge=edge.strip(), piece=ref.piece, edge_of=ref.edge)
    return Along(piece=text.strip())


def along_text(along: Along) -> str:
    """Return the text that `parse_along` reads."""
    on = f"{along.edge} on {along.piece}.{along.edge_of}"
    return on if along.edge else along.piece


def check_companion(pattern: Pattern, companion: Companion) -> None:
    """Raise BadInput where a companion names a piece or an edge that is not there, or itself."""
    pattern.piece(companion.piece)
    for of in companion.of:
        if of.piece == companion.piece:
            what = f'"{of.piece}" is said to go with itself'
            raise BadInput(what=what, expected="another piece that it goes with")
        if bool(of.edge) != bool(of.edge_of):
            what = f'of "{companion.piece}" and "{of.piece}" only one names an edge'
            raise BadInput(what=what, expected="an edge of each of the two, or none of either")
        pattern.piece(of.piece)
        for piece, edge in ((companion.piece, of.edge), (of.piece, of.edge_of)):
            if edge:
                pattern.edge(EdgeRef(piece, edge))


def _edges(pattern: Pattern, piece: str, edge: str, there: set[EdgeKey]) -> tuple[EdgeKey, ...]:
    """Return the edges that one is now, of those there are; for "" the pieces its piece is now."""
    if edge:
        return tuple(key for key in pattern.edges_now(piece, edge) if key in there)
    now = called_now(pattern, Ref("piece", piece, ""))
    return tuple((r.piece, "") for r in now if (r.piece, "") in there)


def _now(pattern: Pattern, own: str, of: Along, name: str, there: set[EdgeKey]) -> Iterator[Along]:
    """Yield what one edge of a companion lies along now. own: its piece as it was; name: now."""
    mine = [e for p, e in _edges(pattern, own, of.edge, there) if p == name]
    for edge in mine:
        for piece, edge_of in _edges(pattern, of.piece, of.edge_of, there):
            yield replace(of, edge=edge, piece=piece, edge_of=edge_of)
