"""What a declared field is chosen from, by its kind: read from the pieces and cloths.

A form for a rule and one for a change ask here alike. What a rule offers besides stands in its
own file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.rules.names import piece_field
from clothwright.rules.offers import Choice, Outfit, pieces, points
from clothwright.units.kinds import Kind
from clothwright.words import edge_name, point_name

Choices = Callable[[Outfit, str], Iterable[Choice]]
"""What can be chosen of what there is, for the field of that name."""


class Offer(NamedTuple):
    """What a kind of field is chosen from. none: said when there is nothing to choose."""

    choices: Choices
    none: str = ""


TYPED = ("size", "sizes", "point of each", "line")
"""Kinds that can also be typed: a size between two, a name that not every piece has."""
TICKED = ("edges", "pieces")
"""Kinds of which several are ticked."""


def whole_outfit(pattern: Pattern) -> Outfit:
    """Return what a change is chosen from: every piece, whatever it is cut from."""
    return Outfit(pattern=pattern, cloths=(), laid=pattern.pieces, printed=pattern.pieces)


def _named(names: Iterable[str], field: str) -> Iterator[Choice]:
    """Yield each name once."""
    for name in dict.fromkeys(names):
        yield Choice(key=name, words=(name,), values={field: name})


def _own_edges(outfit: Outfit, field: str) -> Iterator[Choice]:
    """Yield the edges of printed pieces, hems first, each with its piece."""
    for piece in outfit.printed:
        for edge in sorted(piece.edges, key=lambda e: e.role is not Role.HEM):
            yield Choice(
                key=f"{piece.name}.{edge.name}",
                words=(edge_name(piece.name, edge.name),),
                values={piece_field(field): piece.name, field: edge.name},
                group=piece.name,
            )


def _of_each(names: Callable[[Piece], Iterable[str]], lead: str = "") -> Choices:
    """Return edges, points or darts of every piece, each as one text "PIECE.NAME"."""

    def choices(outfit: Outfit, field: str) -> Iterator[Choice]:
        for p in outfit.laid:
            for name in names(p):
                key, words = f"{p.name}.{name}", point_name(p.name, name)
                yield Choice(key=key, words=(words,), values={field: key}, group=lead + p.name)

    return choices


_edges = _of_each(lambda p: (e.name for e in p.edges))
_points_of_pieces = _of_each(Piece.named_points, "points of ")


def _levels(outfit: Outfit) -> list[str]:
    return [v.name for p in outfit.laid for v in p.levels]


def _lines(outfit: Outfit, field: str) -> Iterator[Choice]:
    marked = [m.name for p in outfit.laid for m in p.marks if m.path is not None]
    fold = ["fold"] if any(p.fold is not None for p in outfit.laid) else []
    return _named([*_levels(outfit), *marked, *fold], field)


def _points_of_each(outfit: Outfit, field: str) -> Iterator[Choice]:
    """Yield the names of corners and marks, those first that most pieces have."""
    own = [n for p in outfit.laid for n in _corners(p)]
    return _named(sorted(dict.fromkeys(own), key=lambda n: -own.count(n)), field)


def _corners(piece: Piece) -> tuple[str, ...]:
    """Return the points of a piece that have a name of their own."""
    named = {e.corner for e in piece.edges} | {m.name for m in piece.marks}
    return tuple(n for n in piece.named_points() if n in named)


def _sizes(outfit: Outfit, field: str) -> Iterator[Choice]:
    """Yield the sizes the pieces came in, and half-way between neighbours."""
    sizes = outfit.pattern.sizes
    names = () if sizes is None else sizes.names
    between = dict(pairwise(names))
    for name in names:
        yield from _named([name], field)
        if name in between:
            key, words = f"{name}/{between[name]}", f"half-way from {name} to {between[name]}"
            yield Choice(key=key, words=(words,), values={field: key})


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


def _of_prints(outfit: Outfit, field: str) -> Iterator[Choice]:
    """Yield the borders, or the figures, of every cloth's print."""
    for cloth in outfit.cloths:
        found = cloth.print.borders if field == "border" else cloth.print.figures
        for each in found:
            yield Choice(
                key=each.name, words=(each.name,), values={field: each.name}, group=cloth.name
            )


def _materials(outfit: Outfit, field: str) -> Iterator[Choice]:
    for p in outfit.pattern.pieces:
        for cut in p.cuts:
            yield Choice(
                key=f"{p.name}.{cut.material}",
                words=(f"{p.name}, meant for {cut.material}",),
                values={piece_field(field): p.name, field: cut.material},
            )


NO_PRINT = "no piece is cut from a cloth with a print"
OFFERS: Mapping[Kind, Offer] = {
    "own edge": Offer(_own_edges, NO_PRINT),
    "own point": Offer(lambda o, f: points(o.printed, f), NO_PRINT),
    "piece": Offer(lambda o, f: pieces(o.laid, f), "no piece is cut from a cloth of this workbook"),
    "pieces": Offer(lambda o, f: pieces(o.laid, f)),
    "material": Offer(_materials, "no piece says what it is cut from"),
    "border": Offer(_of_prints, "no cloth has a border yet"),
    "figure": Offer(_of_prints, "no cloth has a figure to keep clear of yet"),
    "cloth": Offer(lambda o, f: _named([c.name for c in o.cloths], f), "there is no cloth yet"),
    "edge": Offer(_edges),
    "edges": Offer(_edges),
    "point": Offer(_of_each(Piece.named_points)),
    "place": Offer(lambda o, f: (*_edges(o, f), *_points_of_pieces(o, f))),
    "dart": Offer(_of_each(lambda p: (d.name for d in p.darts))),
    "level": Offer(lambda o, f: _named(_levels(o), f)),
    "line": Offer(_lines),
    "point of each": Offer(_points_of_each),
    "seam": Offer(lambda o, f: _named([s.name for s in o.pattern.seams], f)),
    "size": Offer(_sizes),
    "sizes": Offer(_sizes),
}
"""What each kind of field is chosen from; a choice says itself what it is one of."""
