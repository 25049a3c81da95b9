"""Draft a waistband from waist edges: as long as they are sewn, with laps where it closes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.bands_round import (
    BandRound,
    band_round,
    eased,
    line_of,
    lower_edges,
    straightened,
)
from clothwright.changes.change import Change, Outcome
from clothwright.changes.cut_out import with_inside_of
from clothwright.changes.darts import free_name
from clothwright.changes.drafted import refuse_sewn, sewn_now
from clothwright.changes.runs import edge_runs
from clothwright.errors import BadInput
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import polyline
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Mark, Piece
from clothwright.units.params import param
from clothwright.words import Sentence

UNDER, OVER, INSIDE = "underlap", "overlap", "inside"
SHAPES = {
    "straight": "a straight strip, folded along its top edge",
    "shaped": "cut twice to the curve of the waist, for a band that lies below it",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftWaistband:
    """Parameters of `draft-waistband`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "of all the pieces that it goes round", label="Which waist edges"
    )
    closes: str = param(
        "piece", "left out, the last of them", default="", label="On which piece it closes"
    )
    height: float = param("length", "finished", default=38.1, label="How high", least=0.0)
    shape: str = param("choice", "", default="straight", choices=SHAPES, label="Straight or shaped")
    underlap: float = param(
        "length",
        "what lies under when it is closed",
        default=31.75,
        label="How long an underlap",
        least=0.0,
    )
    overlap: float = param(
        "length",
        "on the other end; nothing where it ends flush",
        default=0.0,
        label="How long an overlap",
        least=0.0,
    )
    ease: float = param(
        "length",
        "all round: how much longer the garment is, eased on to it",
        default=0.0,
        label="How much is eased",
    )
    allowance: float = param(
        "length", "all round it", default=15.875, label="Its allowance", least=0.0
    )
    material: str = param("text", "what it is cut from", default="shell", label="From which cloth")
    name: str = param("text", "a name that is free", default="waistband", label="What to call it")


def apply(pattern: Pattern, params: DraftWaistband) -> Outcome:
    """Add a band as long as the waist edges with their darts closed, and sew it to them.

    Of half pieces, and of pieces cut as a pair, it goes all round: one half is sewn to the pieces
    as drawn, the other to their twins. It closes at the end of one piece's edges; where there are
    folds at both ends, at the seam between the pieces. A straight one is twice as deep as it is
    high, and is folded; a shaped one is the parallel of the waist at its height.

    Raises BadInput for unknown names or no height, CannotDo where the edges are not sewn together,
    or one of them has a band already.
    """
    if params.height <= 0.0:
        raise BadInput(what="the waistband has no height", expected="a height")
    refuse_sewn(pattern, params.edges, beside=("facing", "closure"))
    pattern, _ = sewn_now(pattern, edge_runs(pattern, params.edges), params.allowance)
    band = eased(band_round(pattern, params.edges, params.closes), params.ease)
    if params.shape == "straight":
        band = straightened(band)
    piece = _piece(pattern, band, params)
    piece = replace(piece, name=free_name(tuple(p.name for p in pattern.pieces), params.name))
    new = band.added(pattern, piece, "waistband", params.ease)
    return Outcome(pattern=new, said=_said(piece, band, params))


def _piece(pattern: Pattern, band: BandRound, params: DraftWaistband) -> Piece:
    laps = (OVER, params.overlap), (UNDER, params.underlap)
    laps = laps if band.under_last else laps[::-1]
    lower = lower_edges(pattern, band, laps, params.allowance)
    line, straight = line_of(lower), params.shape == "straight"
    top = parallel(line, -params.height * (2 if straight else 1))
    upper = (
        (f"{laps[1][0]} end", polyline((line.end, top.end))),
        (INSIDE if straight else "top", top.reversed()),
        (f"{laps[0][0]} end", polyline((top.start, line.start))),
    )
    edges = (*lower, *(Edge(name=n, path=p, allowance=params.allowance) for n, p in upper))
    cut = band.cut(params.material)
    if not straight:
        cut = replace(cut, how="pair", count=cut.count * (2 if cut.how == "pair" else 1))
        piece = Piece(name="waistband", edges=edges, cuts=(cut,))
        return with_inside_of(piece, replace(band.main, levels=(), marks=()), line)
    piece = Piece(name="waistband", edges=edges, cuts=(cut,))
    fold = parallel(line, -params.height)
    fold = fold if band.under_last else fold.reversed()
    beside = parallel(fold, params.height * (0.4 if band.under_last else -0.4))
    ends = (beside.point_at(beside.length * share) for share in (0.2, 0.8))
    mark = Mark(name="fold line", path=fold, note="fold")
    return replace(piece, grain=Grain(start=next(ends), end=next(ends)), marks=(mark,))


def _said(piece: Piece, band: BandRound, params: DraftWaistband) -> Sentence:
    low, high = band.length, params.height
    deep = 2 * high if params.shape == "straight" else high
    long = low + params.overlap + params.underlap + 2 * params.allowance
    out: list[str | float] = [f"Drafted {piece.name}, ", low, " round the waist"]
    for name, lap in ((UNDER, params.underlap), (OVER, params.overlap)):
        if lap > 0.0:
            out += [", ", lap, f" {name}"]
    if params.ease > 0.0:
        out += ["; the waist is eased on to it by ", params.ease]
    if params.shape == "straight":
        return (*out, "; it is cut ", long, " by ", deep + 2 * params.allowance, ".")
    return (*out, "; it is ", deep, " high and follows the waist.")


CHANGE = Change(
    id="draft-waistband",
    title="Draft a waistband",
    topic="facings, linings and bands",
    why="A band that is as long as the waist is sewn, with its laps, goes on without a pucker.",
    source="length and width, laps: docs/sources.md (waistbands); shape: plane geometry",
    params=DraftWaistband,
    apply=apply,
)
