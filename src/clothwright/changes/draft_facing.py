"""Draft a facing from edges: their very shape, so wide, sewn to them and turned to the inside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.drafted import OnEdges, evened, name_for, on_edges, sewn_now, with_drafted
from clothwright.changes.runs import SewnRun, edge_runs
from clothwright.changes.strips import INNER, strip_along, strip_piece
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Role
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftFacing:
    """Parameters of `draft-facing`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "those of one piece that follow each other are faced as one", label="Which edges"
    )
    width: float = param(
        "length", "finished, from the faced edge", default=63.5, label="How wide", least=0.0
    )
    allowance: float = param(
        "length",
        "to neaten it, or to sew a lining to it; a faced hem gets as much",
        default=15.875,
        label="Allowance of its inner edge",
        least=0.0,
    )
    whole: bool = param(
        "flag",
        "without a seam where the pieces are sewn together",
        default=False,
        label="All in one piece",
    )
    material: str = param("text", "what it is cut from", default="shell", label="From which cloth")
    name: str = param(
        "text", "left out, it is called after its edges", default="", label="What to call it"
    )


def apply(pattern: Pattern, params: DraftFacing) -> Outcome:
    """Add facings drafted on the pieces themselves, darts closed, and sew them to the edges.

    The faced edges are the garment's own line as it is sewn, point for point; the inner edge is
    parallel to it and ends where it meets the edges beside, equally far on both sides of a seam.
    Facings are sewn together where their pieces are, or cut in one. Fold, grain, levels and notches
    are those of the piece. A hem or a bound edge that is faced becomes a seam.

    Raises BadInput for unknown names or no width; CannotDo where an edge is a fold or is faced, or
    the piece has no room.
    """
    if params.width <= 0.0:
        raise BadInput(what="the facing has no width", expected="a width")
    _refuse_faced(pattern, params.edges)
    runs = edge_runs(pattern, params.edges)
    groups = (runs,) if params.whole else tuple((r,) for r in runs)
    for group in groups:
        _refuse_two_folds(group)
    made: list[OnEdges] = []
    for strip in evened(pattern, [strip_along(pattern, g, params.width) for g in groups]):
        known = replace(pattern, pieces=(*pattern.pieces, *(m.piece for m in made)))
        name = name_for(known, strip.runs, "facing", params.name)
        piece = strip_piece(strip, name, allowance=params.allowance, material=params.material)
        made.append(on_edges(strip, piece))
    pattern, hems = sewn_now(pattern, runs, params.allowance)
    return Outcome(
        pattern=with_drafted(pattern, made, "facing", seam_kind="facing"),
        said=_said(made, hems, params),
    )


def _refuse_faced(pattern: Pattern, edges: Sequence[str]) -> None:
    for seam in pattern.seams:
        if seam.kind == "facing":
            for ref in seam.refs:
                if f"{ref.piece}.{ref.edge}" in edges:
                    raise CannotDo(
                        what=f"{edge_name(ref.piece, ref.edge)} cannot be faced again",
                        why=f'it is sewn in the facing seam "{seam.name}" already',
                        nearest="another edge, or take that seam out first",
                    )


def _refuse_two_folds(runs: Sequence[SewnRun]) -> None:
    ends = {run.before.role for run in runs}, {run.after.role for run in runs}
    if len(runs) > 1 and all(Role.FOLD in e for e in ends):
        raise CannotDo(
            what=f"{listed([r.piece.name for r in runs])} cannot be faced in one piece",
            why="it would lie on a fold at both ends",
            nearest="a facing for each of them",
        )


def _said(made: Sequence[OnEdges], hems: Sequence[str], params: DraftFacing) -> Sentence:
    names = listed([m.piece.name for m in made])
    out: list[str | float] = [f"Drafted {names}, ", params.width, " wide; the inner edge of "]
    for k, one in enumerate(made):
        out += ["" if k == 0 else ", of ", f"{one.piece.name} is "]
        out += [one.piece.edge(INNER).length, " long"]
    if hems:
        out += [f"; {listed(hems)} is a seam now, its allowance ", params.allowance]
    return (*out, ".")


CHANGE = Change(
    id="draft-facing",
    title="Draft a facing",
    topic="facings, linings and bands",
    why="A faced edge lies as flat as its facing is like it: the same line, the same grain, and no "
    "dart.",
    source="same shape and grain: NMSU C-233; 2 1/2 in: a school's method (docs/sources.md)",
    params=DraftFacing,
    apply=apply,
)
