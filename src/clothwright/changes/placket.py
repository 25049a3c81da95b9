"""Face the opening at the end of a seam: one strip all round it, or a facing and an underlap."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.drafted import with_free_names
from clothwright.changes.part_open import (
    ENDS,
    OpenPart,
    PartOpened,
    end_of,
    lining_open,
    part_opened,
)
from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import as_drawn
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Grain, Mark, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import Sentence, listed

BELOW_MM = 12.7
"""mm that each of two pieces is longer than the opening: 1/2 in (docs/sources.md: openings)."""
STYLES = {
    "lap": "one strip all round the opening",
    "two": "a facing on the upper side and an underlap on the other",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Placket:
    """The seam, how far it opens, from which end, and what takes its edges; lengths in mm."""

    seam: str = param("seam", "open at one of its ends", label="In which seam")
    length: float = param(
        "length",
        "from the seam line at the end where it opens",
        label="How long is the opening",
        least=0.0,
    )
    end: str = param("choice", "", default="", choices=ENDS, label="From which end")
    style: str = param("choice", "", default="lap", choices=STYLES, label="Which placket")
    width: float = param("length", "finished", default=38.1, label="How wide it laps", least=0.0)
    name: str = param("text", "a name that is free", default="placket", label="What to call it")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """A strip to be drawn: its size in mm, and the open edges, inwards one and outwards the other.

    second: it is sewn to the second edge alone, from the inner end of the opening outwards.
    """

    name: str
    along: tuple[OpenPart, ...]
    long: float
    wide: float
    second: bool = False

    @property
    def folded(self) -> bool:
        """Tell whether it is folded along its middle: all but a facing."""
        return self.second or len(self.along) > 1


def apply(pattern: Pattern, params: Placket) -> Outcome:
    """Sew the seam up to the opening only, and sew strips to both edges of the opening.

    One strip is twice as long as the opening and folded along its middle; it is notched where the
    opening ends. Of two pieces the facing is as wide as the lap and the underlap is folded, both
    run 1/2 in past the opening. Allowances are those of the edge. Raises BadInput for no length or
    width, CannotDo where the seam is no longer than the opening.

    Source: docs/sources.md (openings).
    """
    if params.width <= 0.0:
        raise BadInput(what="the placket has no width", expected="a width")
    params = replace(params, end=end_of(pattern, params.seam, params.end))
    low = params.end == "lower"
    opened = part_opened(pattern, params.seam, params.length, low=low, called="opening")
    after, made = opened.pattern, []
    for wanted in _strips(params, *(opened.parts * 2)[:2]):
        name = free_name(tuple(p.name for p in after.pieces), wanted.name)
        strip = replace(wanted, name=name)
        after = _with_strip(after, strip, opened)
        made.append(after.pieces[-1])
    one, other = (opened.parts * 2)[:2]
    closing = Seam(
        name=f"{params.seam} opening",
        a=(one.ref(opened.at_end),),
        b=(other.ref(opened.at_end),),
        kind="closure",
    )
    after = replace(after, seams=with_free_names(after.seams, (closing,)))
    return Outcome(pattern=after, said=_said(params, opened, made), trail=opened.trail)


def _strips(params: Placket, one: OpenPart, other: OpenPart) -> tuple[_Laid, ...]:
    """Return what is to be drawn: one strip along both edges, or one for each."""
    long, wide, name = params.length, params.width, params.name
    if params.style == "lap":
        return (_Laid(name=name, along=(one, other), long=2 * long, wide=2 * wide),)
    return (
        _Laid(name=f"{name} facing", along=(one,), long=long, wide=wide),
        _Laid(name=f"{name} underlap", along=(other,), long=long, wide=2 * wide, second=True),
    )


def _travelled(strip: _Laid) -> tuple[EdgeRef, ...]:
    """Return the open edges as the strip is sewn to them: inwards the first, outwards the last."""
    ways = (strip.second, True)
    return tuple(
        EdgeRef(p.piece, p.edge, p.at_end != out) for p, out in zip(strip.along, ways, strict=False)
    )


def _with_strip(pattern: Pattern, strip: _Laid, opened: PartOpened) -> Pattern:
    """Return the pattern with a strip drawn, sewn to the edges of the opening, going with them."""
    a = _travelled(strip)
    sewn = EdgeRef(strip.name, "sewn edge", not a[0].reversed)
    piece = _drawn(pattern, strip, turned=sewn.reversed, twice=_is_twice(opened))
    seam = Seam(name=f"{strip.name} seam", a=a, b=(sewn,))
    along = dict.fromkeys((r.piece, r.edge) for r in a)
    goes = Companion(
        piece=strip.name,
        kind="facing" if strip.name.endswith("facing") else "binding",
        of=tuple(Along(edge="sewn edge", piece=p, edge_of=e) for p, e in along),
        by="drafted",
    )
    after = replace(
        pattern,
        pieces=(*pattern.pieces, piece),
        seams=with_free_names(pattern.seams, (seam,)),
    )
    return replace(after, companions=(*after.companions, as_drawn(after, goes)))


def _is_twice(opened: PartOpened) -> bool:
    """Tell whether the garment has the opening on its left and on its right."""
    cuts = [c.how for p in opened.parts for c in opened.pattern.piece(p.piece).cuts]
    return len(opened.parts) > 1 and any(how != "once" for how in cuts)


def _drawn(pattern: Pattern, strip: _Laid, *, turned: bool, twice: bool) -> Piece:
    """Return a strip beside its opening, along the grain; turned: its sewn edge is sewn backwards.

    Its ends lie at the end of the seam, the inner one of a piece that has one 1/2 in past its line.
    """
    part = strip.along[0]
    piece = pattern.piece(part.piece)
    edge = piece.edge(part.edge)
    outer, inner = (edge.path.ends[k] for k in (part.at_end, not part.at_end))
    rises = piece.up.dot(outer - inner) > 0.0
    along = piece.up * (1.0 if rises == strip.second else -1.0)
    across = along.perp * (-1.0 if turned else 1.0)
    long, wide = along * strip.long, across * strip.wide
    middle, half = inner + (long + wide) * 0.5, piece.up * (0.3 * strip.long)
    material = piece.cuts[0].material if piece.cuts else "shell"
    edges = _edges(strip, (inner, inner + long, inner + long + wide, inner + wide), piece, part)
    if turned:
        edges = tuple(replace(e, path=e.path.reversed()) for e in edges[::-1])
    return Piece(
        name=strip.name,
        edges=edges,
        grain=Grain(start=middle - half, end=middle + half),
        marks=_marks(strip, inner, long, wide),
        cuts=(Cut(material=material, how="pair" if twice else "once"),),
    )


def _edges(
    strip: _Laid, corners: tuple[Vec, ...], piece: Piece, part: OpenPart
) -> tuple[Edge, ...]:
    """Return a strip's edges round its corners, the sewn one first, with their allowances."""
    own = piece.edge(part.edge).allowance
    outer = piece.neighbours(part.edge)[part.at_end].allowance
    inner = BELOW_MM if len(strip.along) == 1 else outer
    first, last = (inner, outer) if strip.second else (outer, inner)
    free = Role.SEAM if strip.folded else Role.RAW
    sides = (
        ("sewn edge", Role.SEAM, own),
        ("end", Role.SEAM, last),
        ("other edge", free, own if strip.folded else 0.0),
        ("start", Role.SEAM, first),
    )
    ring = zip(sides, corners, (*corners[1:], corners[0]), strict=True)
    return tuple(
        Edge(name=name, path=polyline((p, q)), role=role, allowance=allowance)
        for (name, role, allowance), p, q in ring
    )


def _marks(strip: _Laid, at: Vec, long: Vec, wide: Vec) -> tuple[Mark, ...]:
    """Return the line on which a strip is folded, and where the opening ends on one all round."""
    if not strip.folded:
        return ()
    fold = polyline((at + wide * 0.5, at + wide * 0.5 + long))
    marks = (Mark(name="fold", path=fold, note="fold"),)
    if len(strip.along) == 1:
        return marks
    return (*marks, Mark(name="end of the opening", at=at + long * 0.5, note="end of the opening"))


def _said(params: Placket, opened: PartOpened, made: list[Piece]) -> Sentence:
    names = listed(list(dict.fromkeys(p.piece for p in opened.parts)))
    said: Sentence = (
        f"Left seam {params.seam} open by ",
        params.length,
        f" from its {params.end} end on {names}, and added {listed([p.name for p in made])}",
    )
    size: Sentence = (
        (", ", 2 * params.length, " long and ", 2 * params.width, " wide between its seam lines")
        if params.style == "lap"
        else (", each ", params.length, " long and ", BELOW_MM, " more past the opening")
    )
    side: Sentence = (
        (" If only one side is to open, cut one, and sew the other side all the way.",)
        if _is_twice(opened) and len({p.piece for p in opened.parts}) > 1
        else ()
    )
    follows: Sentence = (
        ". What is sewn on at the end of the opening, a band or a cuff, needs an underlap of ",
        params.width,
        " there.",
    )
    return (*said, *size, *follows, *lining_open(opened), *side)


CHANGE = Change(
    id="placket",
    title="Open a seam with a placket",
    topic="fullness and openings",
    why="A skirt or a sleeve opens in a seam without a zip: its edges are taken up by a strip, "
    "or by a facing and an underlap, that lap over each other.",
    source="docs/sources.md: openings (strip twice the opening, 1/2 in past it, lap of 1 1/2 in)",
    params=Placket,
    apply=apply,
)
