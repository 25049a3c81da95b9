"""The same change for the companions of what it changes: what lies on it, edge on edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from clothwright.changes.change import Change
from clothwright.changes.named import LISTS, NAMES, Request
from clothwright.pattern.companions import LAID, companions, companions_of
from clothwright.pattern.names import Ref, is_there
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.refs import parse_edge

OF_ITS_OWN = ("hems and allowances", "facings, linings and bands", "whole pieces")
"""Topics of changes that each piece has for itself."""


def asked_alike(change: Change[Any], pattern: Pattern, params: Any) -> tuple[Any, ...]:
    """Return the parameters by which a change is done to the companions, too; none where not.

    pattern: the pieces it is done on. A change that does not say how itself is done to what lies on
    a piece, where all that it names has its like there: the edge along it; a line, a point, a dart
    of the same name.
    """
    if change.alike is not None:
        return change.alike(pattern, params)
    if change.topic in OF_ITS_OWN:
        return ()
    asked = Request(change=change, params=params, pattern=pattern)
    named = dict.fromkeys(r.piece for r in asked.refs if r.piece)
    laid = {c.piece for c in companions(pattern) if c.kind in LAID}
    found = (_on(asked, p) for p in pieces_alike(pattern, named) if p in laid)
    return tuple(_together(params, [r for r in found if r is not None and r.can()]))


def _on(asked: Request, piece: str) -> Request | None:
    """Return a change as it is asked of one companion; None where something has no like there."""
    now = {ref: _likes(asked.pattern, ref, piece) for ref in asked.refs}
    alone = [ref for kind, ref in asked.named() if kind not in LISTS]
    listed = [ref for kind, ref in asked.named() if kind in LISTS]
    if not all(now[r] for r in alone) or (listed and not any(now[r] for r in listed)):
        return None
    return asked.renamed(now) if now else None


def _likes(pattern: Pattern, ref: Ref, piece: str) -> tuple[Ref, ...]:
    """Return what a companion has that is like what is named."""
    if not ref.piece or piece not in pieces_alike(pattern, (ref.piece,)):
        return ()
    if ref.kind in ("edge", "place"):
        along = [e for p, e in edges_alike(pattern, ref.piece, ref.name) if p == piece]
        if along:
            return tuple(Ref(ref.kind, piece, e) for e in along)
    same = Ref(ref.kind, piece, ref.name)
    return (same,) if ref.kind != "edge" and is_there(pattern, same) else ()


def _together(params: Any, found: list[Request]) -> Iterator[Any]:
    """Yield parameters for all companions: one, where they differ in lists alone."""
    kinds = {name: kind for r in found for name, kind, _ in r.kinds()}
    alone = [n for n, kind in kinds.items() if kind in NAMES and kind not in LISTS]
    of: dict[tuple[Any, ...], Any] = {}
    for request in found:
        key = tuple(getattr(request.params, n) for n in alone)
        was = of.get(key)
        of[key] = request.params if was is None else _joined(was, request.params, kinds)
    yield from (p for p in of.values() if p != params)


def _joined(one: Any, other: Any, kinds: Mapping[str, str]) -> Any:
    lists = [f.name for f in fields(one) if kinds.get(f.name) in LISTS]
    both = {n: tuple(dict.fromkeys((*getattr(one, n), *getattr(other, n)))) for n in lists}
    return replace(one, **both)


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
