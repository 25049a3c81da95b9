"""What a parameter of a change can be chosen from, by its kind: read from the pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.words import edge_name, point_name


class Offered(NamedTuple):
    """One thing to choose. value: as the change reads it; group: what it is listed under."""

    value: str
    words: str
    group: str = ""


TYPED = ("size", "sizes", "point of each", "line")
"""Kinds that can also be typed: a size between two, a name that not every piece has."""


def options_of(kind: str, pattern: Pattern, own: Sequence[str]) -> tuple[Offered, ...]:
    """Return what can be chosen for a kind; () for what is typed only. own: a choice's own."""
    if kind in ("edge", "edges"):
        return tuple(_edges(pattern))
    if kind == "point":
        return tuple(_points(pattern))
    if kind == "place":
        return (*_edges(pattern), *_points(pattern, lead="points of "))
    if kind == "dart":
        return tuple(
            Offered(f"{p.name}.{d.name}", point_name(p.name, d.name), p.name)
            for p in pattern.pieces
            for d in p.darts
        )
    if kind in ("size", "sizes"):
        return tuple(_sizes(pattern))
    return tuple(Offered(name, name) for name in _names(kind, pattern)) or tuple(
        Offered(name, name) for name in own
    )


def _names(kind: str, pattern: Pattern) -> tuple[str, ...]:
    """Return the plain names of a kind."""
    pieces = pattern.pieces
    if kind in ("piece", "pieces"):
        return tuple(p.name for p in pieces)
    if kind == "level":
        return tuple(dict.fromkeys(v.name for p in pieces for v in p.levels))
    if kind == "line":
        marked = (m.name for p in pieces for m in p.marks if m.path is not None)
        fold = ("fold",) if any(p.fold is not None for p in pieces) else ()
        return tuple(dict.fromkeys((*_names("level", pattern), *marked, *fold)))
    if kind == "point of each":
        own = [n for p in pieces for n in _corners(p)]
        return tuple(sorted(dict.fromkeys(own), key=lambda n: -own.count(n)))
    if kind == "seam":
        return tuple(s.name for s in pattern.seams)
    return ()


def _corners(piece: Piece) -> tuple[str, ...]:
    """Return the points of a piece that have a name of their own."""
    named = {e.corner for e in piece.edges} | {m.name for m in piece.marks}
    return tuple(n for n in piece.named_points() if n in named)


def _edges(pattern: Pattern) -> Iterator[Offered]:
    for p in pattern.pieces:
        for e in p.edges:
            yield Offered(f"{p.name}.{e.name}", edge_name(p.name, e.name), p.name)


def _points(pattern: Pattern, lead: str = "") -> Iterator[Offered]:
    for p in pattern.pieces:
        for name in p.named_points():
            yield Offered(f"{p.name}.{name}", point_name(p.name, name), f"{lead}{p.name}")


def _sizes(pattern: Pattern) -> Iterator[Offered]:
    """Yield the sizes the pieces came in, and half-way between neighbours."""
    names = () if pattern.sizes is None else pattern.sizes.names
    between = {a: Offered(f"{a}/{b}", f"half-way from {a} to {b}") for a, b in pairwise(names)}
    for name in names:
        yield Offered(name, name)
        if name in between:
            yield between[name]


def levels_of_sizes(pattern: Pattern) -> tuple[str, ...]:
    """Return the levels of the pieces that come in several sizes; a piece without any by name."""
    if pattern.sizes is None:
        return ()
    first = pattern.sizes.pieces[0]
    levels = [lv.name for p in first for lv in p.levels]
    return tuple(dict.fromkeys((*levels, *(p.name for p in first if not p.levels))))


def levels_said(text: str) -> dict[str, str]:
    """Return "bust 14, hip 16" as level and size; what cannot be read so is left out.

    >>> levels_said("bust 14, hip 16/18")
    {'bust': '14', 'hip': '16/18'}
    """
    parts = (part.replace("=", " ").split() for part in text.split(","))
    return {" ".join(words[:-1]): words[-1] for words in parts if len(words) > 1}
