"""Draft a waistband from waist edges: as long as they are sewn, with laps where it closes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.cut_out import with_inside_of
from clothwright.changes.darts import free_name
from clothwright.changes.drafted import refs_along, runs_back
from clothwright.changes.runs import SewnRun, edge_runs, joined_path, laid_together, main_run
from clothwright.errors import BadInput
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.transform import Transform, reflection, scaling
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Grain, Mark, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import Sentence

LEFT, RIGHT = "left half", "right half"
"""What is sewn to the pieces as drawn, and to their twins."""
UNDER, OVER, INSIDE = "underlap", "overlap", "inside"
SHAPES = {
    "straight": "a straight strip, folded along its top edge",
    "shaped": "cut twice to the curve of the waist, for a band that lies below it",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftWaistband:
    """Parameters of `draft-waistband`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "in order; it closes where the last one ends", label="Which waist edges"
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


class BandPart(NamedTuple):
    """A part of the band's lower line, from its start on, and the runs that it is sewn to.

    twin: it is sewn to the other ones of the pieces.
    """

    name: str
    path: Path
    runs: tuple[SewnRun, ...]
    twin: bool = False


def apply(pattern: Pattern, params: DraftWaistband) -> Outcome:
    """Add a band as long as the waist edges with their darts closed, and sew it to them.

    Of half pieces, and of pieces cut as a pair, it goes all round: one half is sewn to the pieces
    as drawn, the other to their twins. It closes where the last edge ends; where there are folds at
    both ends, at the seam between the pieces. A straight one is twice as deep as it is high, and is
    folded; a shaped one is the parallel of the waist at its height.

    Raises BadInput for unknown names or no height, CannotDo where the edges are not sewn together.
    """
    if params.height <= 0.0:
        raise BadInput(what="the waistband has no height", expected="a height")
    loose = edge_runs(pattern, params.edges)
    runs = laid_together(pattern, loose)
    main = main_run(runs, loose[0].piece.name).piece
    sections = _eased(_sections(runs, loose[-1].piece.name), params.ease)
    if params.shape == "straight":
        sections = _straightened(sections, main.up)
    under_last = _under_last(sections, loose[-1].piece.name)
    piece = _piece(sections, main, params, under_last=under_last)
    piece = replace(piece, name=free_name(tuple(p.name for p in pattern.pieces), params.name))
    order = [run.piece.name for run in loose]
    by_name = sorted(sections, key=lambda s: (s.twin, order.index(s.runs[0].piece.name), s.name))
    band = Companion(piece=piece.name, kind="waistband", of=tuple(_along(by_name)), by="drafted")
    new = replace(
        pattern,
        pieces=(*pattern.pieces, piece),
        seams=(*pattern.seams, *_seams(pattern, by_name, piece.name, params.ease)),
        companions=(*pattern.companions, band),
    )
    return Outcome(pattern=new, said=_said(piece, sections, params))


# --- what it is sewn to ---------------------------------------------------------------------------


def _sections(runs: tuple[SewnRun, ...], last: str) -> tuple[BandPart, ...]:
    """Return the parts of the band, from where it closes round to there. last: the piece it is."""
    line = joined_path(runs)
    own = BandPart(LEFT, line.reversed(), runs)
    ends = runs[0].before.role is Role.FOLD, runs[-1].after.role is Role.FOLD
    if not any(ends) and all(c.how == "once" for r in runs for c in r.piece.cuts):
        return (BandPart("waist", line.reversed(), runs),)
    over = _over(line.start, line.start_tangent), _over(line.end, line.end_tangent)
    if all(ends) and len(runs) > 1:
        at = len(runs) - 1 if runs[-1].piece.name == last else 1
        parts = (runs[at:], over[1]), (runs[:at], over[0])
        before, after = (
            BandPart(f"right {r[0].piece.name}", joined_path(r).transformed(m), r, twin=True)
            for r, m in parts
        )
        return before, own, after
    at_start = ends[1] or (not ends[0] and runs[0].piece.name == last and len(runs) > 1)
    twin = BandPart(RIGHT, line.transformed(over[1 if at_start else 0]), runs, twin=True)
    return (twin, own) if at_start else (own, twin)


def _over(at: Vec, tangent: Vec) -> Transform:
    """Return the mirror in the line across an end of the waist."""
    return reflection(at, at + tangent.perp)


def _under_last(sections: Sequence[BandPart], last: str) -> bool:
    """Tell whether the underlap is on the last end: beside the pieces as drawn, or the last one."""
    if len(sections) == 2:
        return sections[-1].name == LEFT
    return sections[-1].runs[0].piece.name == last


def _eased(sections: tuple[BandPart, ...], ease: float) -> tuple[BandPart, ...]:
    """Return the parts shorter by their share of what the garment is eased."""
    whole = sum(s.path.length for s in sections)
    if not 0.0 <= ease < whole / 2:
        what = ("the waist cannot be eased by ", ease)
        raise BadInput(what=what, expected=("nothing, or less than half of ", whole))
    share = scaling(1.0 - ease / whole)
    return tuple(s._replace(path=s.path.transformed(share)) for s in sections) if ease else sections


def _straightened(sections: tuple[BandPart, ...], up: Vec) -> tuple[BandPart, ...]:
    """Return the parts end to end on a level line; the pieces' own lies where it is drawn."""
    drawn = next(k for k, s in enumerate(sections) if not s.twin)
    path = sections[drawn].path
    along, run = up.perp, 0.0
    along = along if along.dot(path.end - path.start) > 0.0 else -along
    start = path.start.lerp(path.end, 0.5) - along * (path.length / 2)
    start -= along * sum(s.path.length for s in sections[:drawn])
    out = []
    for s in sections:
        line = polyline((start + along * run, start + along * (run + s.path.length)))
        run += s.path.length
        out.append(s._replace(path=line))
    return tuple(out)


def _along(sections: Sequence[BandPart]) -> Iterator[Along]:
    for s in sections:
        for ref in refs_along(s.runs):
            yield Along(edge=s.name, piece=ref.piece, edge_of=ref.edge)


def _seams(
    pattern: Pattern, sections: Sequence[BandPart], band: str, ease: float
) -> Iterator[Seam]:
    whole = sum(s.path.length for s in sections)
    names = tuple(s.name for s in pattern.seams)
    for s in sections:
        own = EdgeRef(band, s.name, reversed=runs_back(s.runs) == s.twin)
        name = free_name(names, f"{band} {s.name}")
        yield Seam(name=name, a=(own,), b=refs_along(s.runs), ease=ease * s.path.length / whole)


# --- the band -------------------------------------------------------------------------------------


def _piece(
    sections: Sequence[BandPart], main: Piece, params: DraftWaistband, *, under_last: bool
) -> Piece:
    laps = (params.overlap, params.underlap) if under_last else (params.underlap, params.overlap)
    names = (OVER, UNDER) if under_last else (UNDER, OVER)
    lower = [(s.name, s.path, _joints(s)) for s in sections]
    if laps[0] > 0.0:
        first = sections[0].path
        start = first.start - first.start_tangent * laps[0]
        lower.insert(0, (names[0], polyline((start, first.start)), ()))
    if laps[1] > 0.0:
        last = sections[-1].path
        lower.append((names[1], polyline((last.end, last.end + last.end_tangent * laps[1])), ()))
    line = join_all([path for _, path, _ in lower])
    straight = params.shape == "straight"
    top = parallel(line, -params.height * (2 if straight else 1))
    ends = [f"{name} end" for name in names]
    lines = (
        *lower,
        (ends[1], polyline((line.end, top.end)), ()),
        (INSIDE if straight else "top", top.reversed(), ()),
        (ends[0], polyline((top.start, line.start)), ()),
    )
    edges = tuple(
        Edge(name=name, path=path, allowance=params.allowance, notches=notches)
        for name, path, notches in lines
    )
    cut = Cut(material=params.material, how="once" if straight else "pair")
    piece = Piece(name="waistband", edges=edges, cuts=(cut,))
    if not straight:
        return with_inside_of(piece, replace(main, levels=(), marks=()), line)
    fold = parallel(line, -params.height)
    fold = fold if under_last else fold.reversed()
    beside = parallel(fold, params.height * (0.4 if under_last else -0.4))
    grain = Grain(
        start=beside.point_at(beside.length * 0.2), end=beside.point_at(beside.length * 0.8)
    )
    fold_line = Mark(name="fold line", path=fold, note="fold")
    return replace(piece, grain=grain, marks=(fold_line,))


def _joints(section: BandPart) -> tuple[Notch, ...]:
    """Return a notch for every seam that the band goes over."""
    whole = sum(r.path.length for r in section.runs)
    found, run = [], 0.0
    for before, after in pairwise(section.runs):
        run += before.path.length
        at = run / whole * section.path.length
        at = at if section.twin else section.path.length - at
        found.append(Notch(at=at, name=after.edges[0].corner))
    return tuple(sorted(found, key=lambda n: n.at))


# --- the record -----------------------------------------------------------------------------------


def _said(piece: Piece, sections: Sequence[BandPart], params: DraftWaistband) -> Sentence:
    low, high = (sum(s.path.length for s in sections), params.height)
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
