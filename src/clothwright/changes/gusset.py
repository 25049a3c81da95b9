"""Set a gusset where two seams meet: a diamond of cloth under an arm or in the crotch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.drafted import with_free_names
from clothwright.changes.part_open import OpenPart, PartOpened, part_opened
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import polyline
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Grain, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.trail import joined, trail_to
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, listed, show_angle_deg

MOST_DEG = 150.0
"""Degrees at the points that lie in the seams: wider, the diamond is hardly longer than a line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gusset:
    """The seams that meet, how far each is opened, how wide the diamond is; lengths in mm."""

    seam: str = param("seam", "the side seam, or the inseam", label="In which seam")
    other: str = param(
        "seam",
        "the sleeve seam; left out, the first meets its own twin, as an inseam does",
        default="",
        label="Which seam meets it",
    )
    length: float = param(
        "length", "along each seam, from where they meet", label="How far open", least=0.0
    )
    width: float = param(
        "length", "across, from the front point to the back", label="How wide", least=0.0
    )
    name: str = param("text", "a name that is free", default="gusset", label="What to call it")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Opened:
    """The pattern with both seams open; sides: of each, the front and back edge in that order.

    A seam that meets its own twin is there twice.
    """

    pattern: Pattern
    seams: tuple[PartOpened, PartOpened]
    sides: tuple[tuple[OpenPart, OpenPart], tuple[OpenPart, OpenPart]]


def apply(pattern: Pattern, params: Gusset) -> Outcome:
    """Open both seams from where they meet, and sew a diamond to the four edges.

    Each of its sides is as long as the opening; across it is as wide as asked, so that its angle in
    the seams is twice the arc sine of half the width over the side. Raises BadInput for no length
    or width, CannotDo where the seams do not meet or the diamond is too wide for its sides. Source:
    plane geometry (docs/changes/gusset.md).
    """
    if params.width <= 0.0 or params.length <= 0.0:
        raise BadInput(what="the gusset has no sides or no width", expected="both")
    widest = 2.0 * params.length * math.sin(math.radians(MOST_DEG / 2))
    if params.width > widest:
        raise CannotDo(
            what=("a gusset with sides ", params.length, " long cannot be ", params.width, " wide"),
            why="its sides do not reach so far apart",
            nearest=(AtMost(widest), " wide or less, or longer openings"),
        )
    opened = _opened(pattern, params)
    name = free_name(tuple(p.name for p in pattern.pieces), params.name)
    piece = _diamond(opened, params, name)
    seams = with_free_names(opened.pattern.seams, _seams(opened, params, name))
    after = replace(opened.pattern, pieces=(*opened.pattern.pieces, piece), seams=seams)
    names = dict.fromkeys(p.piece for side in opened.sides for p in side)
    trail = joined(trail_to(pattern.piece(n), (after.piece(n),)) for n in names)
    return Outcome(pattern=after, said=_said(piece, params, tuple(names)), trail=trail)


def _opened(pattern: Pattern, params: Gusset) -> _Opened:
    """Open the upper ends of both seams. Raises CannotDo where they do not meet there."""
    first = part_opened(pattern, params.seam, params.length, low=False, called="gusset")
    one, other = (first.parts * 2)[:2]
    if params.other in ("", params.seam):
        if len(first.parts) < 2 or not all(_is_on_twin(first.pattern, p) for p in first.parts):
            raise _do_not_meet(params)
        return _Opened(
            pattern=first.pattern, seams=(first, first), sides=((one, other), (one, other))
        )
    second = part_opened(first.pattern, params.other, params.length, low=False, called="gusset")
    for facing in (second.parts, second.parts[::-1]):
        pairs = tuple(zip((one, other), facing, strict=False))
        if len(first.parts) == len(facing) == 2 and all(
            set(_meets(second.pattern, a)) & set(_meets(second.pattern, b)) for a, b in pairs
        ):
            return _Opened(
                pattern=second.pattern,
                seams=(first, second),
                sides=((one, other), (facing[0], facing[1])),
            )
    raise _do_not_meet(params)


def _do_not_meet(params: Gusset) -> CannotDo:
    both = f" and {params.other}" if params.other else " and its twin on the other side"
    return CannotDo(
        what=f"a gusset cannot be set into seam {params.seam}",
        why=f"seam {params.seam}{both} do not meet at their upper ends",
        nearest="a side seam and the sleeve seam that meets it, or an inseam alone",
    )


def _beyond(pattern: Pattern, part: OpenPart) -> Edge:
    """Return the edge that begins, or ends, where an open one lies at the end of its seam."""
    return pattern.piece(part.piece).neighbours(part.edge)[part.at_end]


def _is_on_twin(pattern: Pattern, part: OpenPart) -> bool:
    """Tell whether what lies beyond an open edge is sewn to its own twin: the crotch, a centre."""
    edge = _beyond(pattern, part).name
    return any(
        all((part.piece, edge) in [(r.piece, r.edge) for r in run] for run in (seam.a, seam.b))
        for seam in pattern.seams_of(part.piece, edge)
    )


def _meets(pattern: Pattern, part: OpenPart) -> Iterator[tuple[str, bool]]:
    """Yield the seams, and which of their ends, that lie beyond an open edge."""
    edge = _beyond(pattern, part).name
    for seam in pattern.seams_of(part.piece, edge):
        for run in (seam.a, seam.b):
            for at_end, ref in ((False, run[0]), (True, run[-1])):
                here = (ref.piece, ref.edge) == (part.piece, edge)
                if here and (ref.reversed == part.at_end) == at_end:
                    yield seam.name, at_end


def _edge_names(opened: _Opened) -> tuple[str, str, str, str]:
    """Return what the diamond's sides are called: the first seam's front and back, the other's."""
    names: list[str] = []
    for part in (p for side in opened.sides for p in side):
        names.append(free_name(tuple(names), f"side to {part.piece}"))
    return names[0], names[1], names[2], names[3]


def _diamond(opened: _Opened, params: Gusset, name: str) -> Piece:
    """Return the diamond on the end of the first opening, its grain from point to point."""
    part = opened.sides[0][0]
    piece = opened.pattern.piece(part.piece)
    edge = piece.edge(part.edge)
    low = edge.path.start if part.at_end else edge.path.end
    left = 1.0 if part.at_end else -1.0
    high = 2.0 * math.sqrt(params.length**2 - params.width**2 / 4)
    top, middle = low + piece.up * high, low + piece.up * (high / 2)
    out = piece.up.perp * (left * params.width / 2)
    ring = (low, middle - out, top, middle + out)
    front, back, front_2, back_2 = _edge_names(opened)
    names = (back, back_2, front_2, front)
    edges = tuple(
        Edge(name=n, path=polyline((p, q)), allowance=edge.allowance)
        for n, p, q in zip(names, ring, (*ring[1:], ring[0]), strict=True)
    )
    if left < 0.0:
        edges = tuple(replace(e, path=e.path.reversed()) for e in edges[::-1])
    cuts = [c for side in opened.sides for p in side for c in opened.pattern.piece(p.piece).cuts]
    twice = params.other not in ("", params.seam) and any(c.how != "once" for c in cuts)
    return Piece(
        name=name,
        edges=edges,
        grain=Grain(start=middle - piece.up * (high / 4), end=middle + piece.up * (high / 4)),
        cuts=(
            Cut(material=cuts[0].material if cuts else "shell", how="pair" if twice else "once"),
        ),
    )


def _seams(opened: _Opened, params: Gusset, name: str) -> Iterator[Seam]:
    """Yield the seams of the four sides, each travelled as the seam was that it opens."""
    names = iter(_edge_names(opened))
    for nth, (seam, done, side) in enumerate(
        zip((params.seam, params.other or params.seam), opened.seams, opened.sides, strict=True)
    ):
        for k, part in enumerate(side):
            outwards = (nth == 0) == (k == 1)  # round the diamond, as its edge runs
            turned = (outwards != done.at_end) != (not opened.sides[0][0].at_end)
            yield Seam(
                name=f"{seam} gusset",
                a=(part.ref(done.at_end),),
                b=(EdgeRef(name, next(names), turned),),
            )


def _said(piece: Piece, params: Gusset, names: tuple[str, ...]) -> Sentence:
    angle = 2.0 * math.degrees(math.asin(params.width / 2.0 / params.length))
    seams, meet = f"seam {params.seam}", "it meets its twin"
    if params.other not in ("", params.seam):
        seams, meet = f"seams {params.seam} and {params.other}", "they meet"
    return (
        f"Opened {seams} by ",
        params.length,
        f" where {meet} on {listed(names)}, and set in {piece.name} with sides as long, ",
        params.width,
        f" across, {show_angle_deg(angle)} at its points in these seams and "
        f"{show_angle_deg(180.0 - angle)} at the others. Stop each seam at the corners of its "
        "stitching line; a lining needs the same gusset.",
    )


CHANGE = Change(
    id="gusset",
    title="Set in a gusset",
    topic="fullness and openings",
    why="Where a sleeve drags when the arm is raised, or the crotch strains at a stride, a diamond "
    "where the seams meet gives length and width at once.",
    source="plane geometry: a diamond by its side and its width",
    params=Gusset,
    apply=apply,
)
