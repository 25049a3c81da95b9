"""The same change for the companions of what it changes: pieces, and edges along its edges."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from clothwright.changes.change import Change
from clothwright.pattern.companions import companions, companions_of
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.refs import parse_edge


def asked_alike(change: Change[Any], pattern: Pattern, params: Any) -> tuple[Any, ...]:
    """Return the parameters by which a change is done to the companions, too; none where not."""
    return () if change.alike is None else change.alike(pattern, params)


def pieces_alike(pattern: Pattern, pieces: Iterable[str]) -> tuple[str, ...]:
    """Return the companions of pieces, and those of these, without the pieces themselves."""
    known = list(dict.fromkeys(pieces))
    first = len(known)
    for name in known:
        known += [c.piece for c in companions_of(pattern, name) if c.piece not in known]
    return tuple(known[first:])


def edges_alike(pattern: Pattern, piece: str, edge: str) -> tuple[tuple[str, str], ...]:
    """Return the edges of companions that lie along an edge, and those that lie along these."""
    ties = [(c.piece, of) for c in companions(pattern) for of in c.of if of.edge]
    found = [(piece, edge)]
    for at in found:
        along = [(p, of.edge) for p, of in ties if (of.piece, of.edge_of) == at]
        found += [e for e in dict.fromkeys(along) if e not in found]
    return tuple(found[1:])


def along_edges(
    pattern: Pattern, texts: Iterable[str], lines: Iterable[str] = ()
) -> tuple[str, ...]:
    """Return as "PIECE.EDGE" the edges of companions along edges, on pieces that have the lines.

    lines: names of levels that the change asks for; "" for none.
    """
    refs = [parse_edge(text) for text in texts]
    own, needed = {(r.piece, r.edge) for r in refs}, {n for n in lines if n}
    along = dict.fromkeys(e for r in refs for e in edges_alike(pattern, r.piece, r.edge))
    return tuple(
        f"{piece}.{edge}"
        for piece, edge in along
        if (piece, edge) not in own and needed <= {lv.name for lv in pattern.piece(piece).levels}
    )
