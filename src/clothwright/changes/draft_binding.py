"""Draft a binding: a strip, on the bias or straight, as long as the edges that it binds."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.bands_round import (
    BandRound,
    band_round,
    line_of,
    lower_edges,
    straightened,
)
from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.drafted import name_for, refuse_sewn
from clothwright.changes.drawn_in import used_as
from clothwright.changes.runs import edge_runs
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import AtLeast, Sentence

FOLDS = {
    "double": "both its edges are turned in: cut four times as wide as it is finished",
    "single": "cut twice as wide as it is finished",
}
GRAINS = {
    "bias": "on the bias, for curves",
    "straight": "on the straight grain, for straight edges",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftBinding:
    """Parameters of `draft-binding`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "of all the pieces that it goes round", label="Which edges"
    )
    closes: str = param(
        "piece", "left out, the last of them", default="", label="On which piece it ends"
    )
    width: float = param("length", "finished", default=6.35, label="How wide", least=0.0)
    fold: str = param("choice", "", default="double", choices=FOLDS, label="How it is folded")
    grain: str = param("choice", "", default="bias", choices=GRAINS, label="On which grain")
    extra: float = param(
        "length", "for thick cloth", default=0.0, label="How much wider it is cut", least=0.0
    )
    join: float = param(
        "length",
        "at its ends and where strips are joined",
        default=6.35,
        label="Allowance of joins",
        least=0.0,
    )
    longest: float = param(
        "length",
        "left out, it is cut in one",
        default=0.0,
        label="Longest strip to be had",
        least=0.0,
    )
    material: str = param("text", "what it is cut from", default="shell", label="From which cloth")
    name: str = param(
        "text", "left out, it is called after its edges", default="", label="What to call it"
    )


class CutStrips(NamedTuple):
    """How a binding is cut: so many strips of this length, mm, joins counted in."""

    strips: int
    length: float


def apply(pattern: Pattern, params: DraftBinding) -> Outcome:
    """Add a strip as long as the edges are sewn, darts closed, and make the edges bound ones.

    The edge itself is where the binding is sewn, so that its allowance is trimmed off. The strip
    goes all round half pieces and their twins, once round a ring such as an armhole. Ends of a bias
    strip are cut along the thread: each join takes twice its allowance times √2 of the length, of a
    straight one twice its allowance.

    Raises BadInput for unknown names or no width, CannotDo where an edge is sewn to another, or no
    strip is long enough to join.
    """
    if params.width <= 0.0:
        raise BadInput(what="the binding has no width", expected="a width")
    refuse_sewn(pattern, params.edges)
    runs = edge_runs(pattern, params.edges)
    name = params.name or name_for(pattern, runs, "binding")
    name = free_name(tuple(p.name for p in pattern.pieces), name)
    band = straightened(band_round(pattern, params.edges, params.closes))
    cut = _strips(band.length, params)
    piece = replace(_piece(pattern, band, params), name=name)
    new = band.added(_bound(pattern, params), piece, "binding")
    return Outcome(pattern=new, said=_said(piece, band, cut, params))


def cut_width(params: DraftBinding) -> float:
    """Return how wide the strip is cut, mm."""
    return params.width * (4 if params.fold == "double" else 2) + params.extra


def lost_in_join(params: DraftBinding) -> float:
    """Return how much of a strip's length a join takes, mm; as much at both ends together."""
    return 2 * params.join * (math.sqrt(2) if params.grain == "bias" else 1.0)


def _strips(length: float, params: DraftBinding) -> CutStrips:
    """Return the fewest strips that are no longer than can be had. Raises CannotDo."""
    lost = lost_in_join(params)
    if params.longest <= 0.0:
        return CutStrips(1, length + lost)
    room = params.longest - lost
    if room < cut_width(params):
        raise CannotDo(
            what=("strips ", params.longest, " long cannot be joined to a binding"),
            why=("each join takes ", lost, " of them"),
            nearest=("strips of ", AtLeast(lost + cut_width(params)), " or more"),
        )
    count = math.ceil(length / room - 1e-9)
    return CutStrips(count, length / count + lost)


def _bound(pattern: Pattern, params: DraftBinding) -> Pattern:
    for text in params.edges:
        ref = parse_edge(text)
        pattern = pattern.with_piece(
            used_as(pattern.piece(ref.piece), ref.edge, Role.BOUND, allowance=0.0)
        )
    return pattern


def _piece(pattern: Pattern, band: BandRound, params: DraftBinding) -> Piece:
    """Return the strip: its lower edge is sewn, its ends lie along the thread."""
    lower = lower_edges(pattern, band, (("", 0.0), ("", 0.0)), 0.0)
    line, wide = line_of(lower), cut_width(params)
    along = (line.end - line.start).unit
    up = along.perp
    along = along if band.under_last else -along
    slant = up + along if params.grain == "bias" else up
    top = polyline((line.start + slant * wide, line.end + slant * wide))
    ends = ("under end", "over end") if band.under_last else ("over end", "under end")
    edges = (
        *lower,
        Edge(name=ends[0], path=polyline((line.end, top.end)), allowance=params.join),
        Edge(name="other side", path=top.reversed()),
        Edge(name=ends[1], path=polyline((top.start, line.start)), allowance=params.join),
    )
    thread = slant.unit if params.grain == "bias" else along
    cut = band.cut(params.material)
    return Piece(name="binding", edges=edges, grain=_grain(line, top, thread), cuts=(cut,))


def _grain(line: Path, top: Path, thread: Vec) -> Grain:
    """Return an arrow along the thread through the middle of the strip."""
    middle = line.middle.lerp(top.middle, 0.5)
    across = line.start.distance(top.start)
    half = thread * min(0.4 * across, 0.3 * line.length)
    return Grain(start=middle - half, end=middle + half)


def _said(piece: Piece, band: BandRound, cut: CutStrips, params: DraftBinding) -> Sentence:
    how = "on the bias" if params.grain == "bias" else "on the straight grain"
    out: list[str | float] = [f"Drafted {piece.name}, ", band.length, f" long, to be cut {how} "]
    out += [cut_width(params), " wide and "]
    if cut.strips > 1:
        out.append(f"in {cut.strips} strips, each ")
    return (*out, cut.length, " long, joins and ends counted in; trim the allowance off.")


CHANGE = Change(
    id="draft-binding",
    title="Draft a binding",
    topic="facings, linings and bands",
    why="A binding takes the place of a hem or a facing; its length is that of the line it is sewn "
    "on, with what the joins take.",
    source="cut widths: sewing guides (docs/sources.md, bindings); joins: plane geometry",
    params=DraftBinding,
    apply=apply,
)
