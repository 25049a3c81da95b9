"""Pieces drafted from others: their seams, what they go with, and what is said of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from clothwright.changes.bands import rank
from clothwright.changes.darts import free_name
from clothwright.changes.drawn_in import used_as
from clothwright.changes.runs import RunEnd, SewnRun, run_joints
from clothwright.changes.strips import UNSEWN, Strip
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.parts import called
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.words import edge_name


@dataclass(frozen=True, slots=True, kw_only=True)
class OnEdges:
    """A piece that was drafted along runs of edges of others.

    strip: where it lies. edges: for each run, what its edges are called on the new piece.
    """

    piece: Piece
    strip: Strip
    edges: tuple[tuple[str, ...], ...]


def name_for(pattern: Pattern, runs: Sequence[SewnRun], kind: str, wanted: str = "") -> str:
    """Return what a piece of some kind along runs is called. Raises BadInput when that is taken.

    "front neck facing"; of several edges "front facing", of several pieces "neck facing".
    """
    if wanted:
        if any(p.name == wanted for p in pattern.pieces):
            raise BadInput(
                what=f'there is a piece "{wanted}" already', expected="a name that is free"
            )
        return wanted
    pieces = dict.fromkeys(r.piece.name for r in runs)
    edges = dict.fromkeys(n for r in runs for n in r.names)
    of = called(tuple(pieces)) if len(pieces) > 1 else next(iter(pieces))
    words = (of, *(edges if len(edges) == 1 else ()), kind)
    return free_name(tuple(p.name for p in pattern.pieces), " ".join(w for w in words if w))


def evened(pattern: Pattern, strips: Sequence[Strip]) -> tuple[Strip, ...]:
    """Return strips whose ends are equally long where they are sewn together, and meet fairly.

    Half-way between both: in length, and in what the angles of the two inner lines with the seam
    lack of 180 degrees.
    """
    out = list(strips)
    owners = [(i, run) for i, strip in enumerate(strips) for run in strip.runs]
    for joint in run_joints(pattern, [run for _, run in owners]):
        ends = [(owners[end.run], end.after) for end in (joint.a, joint.b)]
        if all(run is strips[i].runs[-1 if after else 0] for (i, run), after in ends):
            reach = sum(out[i].reach(after=after) for (i, _), after in ends) / 2
            ways = [out[i].leaving(after=after) for (i, _), after in ends]
            turns = [turn_between_deg(*way) for way in ways]
            more = (180.0 - sum(abs(t) for t in turns)) / 2
            for ((i, _), after), (edge, _), turn in zip(ends, ways, turns, strict=True):
                to = rotation_deg(math.copysign(abs(turn) + more, turn)).apply_direction(edge)
                out[i] = out[i].reaching(reach, to, after=after)
    return tuple(out)


def on_edges(strip: Strip, piece: Piece) -> OnEdges:
    """Return a strip's piece with what its edges are called for each run."""
    found, at = [], 0
    for run in strip.runs:
        found.append(tuple(e.name for e in piece.edges[at : at + len(run.names)]))
        at += len(run.names)
    return OnEdges(piece=piece, strip=strip, edges=tuple(found))


def sewn_now(
    pattern: Pattern, runs: Sequence[SewnRun], allowance: float
) -> tuple[Pattern, list[str]]:
    """Return the pattern with edges of runs that nothing was sewn to as seams, and their names.

    allowance: mm, of those.
    """
    names: list[str] = []
    for run in runs:
        piece = pattern.piece(run.piece.name)
        for edge in (piece.edge(n) for n in run.names):
            if edge.role in UNSEWN:
                piece = used_as(piece, edge.name, Role.SEAM, allowance)
                names.append(edge_name(piece.name, edge.name))
        if piece is not pattern.piece(piece.name):
            pattern = pattern.with_piece(piece)
    return pattern, names


def refuse_sewn(pattern: Pattern, edges: Sequence[str], beside: Sequence[str] = ()) -> None:
    """Raise CannotDo for an edge that is sewn to another already.

    beside: kinds of seams that may be there, too: a collar goes on an edge that is faced.
    """
    for ref in (parse_edge(text) for text in edges):
        for seam in pattern.seams_of(ref.piece, ref.edge):
            if seam.kind in beside:
                continue
            raise CannotDo(
                what=f"nothing more can be sewn to {edge_name(ref.piece, ref.edge)}",
                why=f'it is sewn in seam "{seam.name}" already',
                nearest="another edge, or take that seam out first",
            )


def with_drafted(
    pattern: Pattern, made: Sequence[OnEdges], kind: str, *, seam_kind: str
) -> Pattern:
    """Return the pattern with drafted pieces: sewn to what they lie along, and to each other."""
    new = (*(_seam_along(m, seam_kind) for m in made), *_seams_between(pattern, made, kind))
    return replace(
        pattern,
        pieces=(*pattern.pieces, *(m.piece for m in made)),
        seams=with_free_names(pattern.seams, new),
        companions=(*pattern.companions, *(_companion(m, kind) for m in made)),
    )


def with_free_names(seams: Sequence[Seam], new: Iterable[Seam]) -> tuple[Seam, ...]:
    """Return seams with new ones added, which get a number where their name is taken."""
    out = list(seams)
    for seam in new:
        out.append(replace(seam, name=free_name(tuple(s.name for s in out), seam.name)))
    return tuple(out)


def _companion(made: OnEdges, kind: str) -> Companion:
    """Return what a drafted piece goes with: each of its edges lies along another."""
    of = tuple(
        Along(edge=edge, piece=run.piece.name, edge_of=name)
        for run, edges in zip(made.strip.runs, made.edges, strict=True)
        for name, edge in zip(run.names, edges, strict=True)
    )
    return Companion(piece=made.piece.name, kind=kind, of=of, by="drafted")


def runs_back(runs: Sequence[SewnRun]) -> bool:
    """Tell whether a seam along runs is sewn against their direction: from the fold or centre."""
    first, last = runs[0], runs[-1]
    return (rank(first.before), first.piece.name) > (rank(last.after), last.piece.name)


def refs_along(runs: Sequence[SewnRun]) -> tuple[EdgeRef, ...]:
    """Return the edges of runs as a side of a seam, in the direction it is sewn."""
    back = runs_back(runs)
    refs = [EdgeRef(run.piece.name, n, run.turned != back) for run in runs for n in run.names]
    return tuple(refs[::-1] if back else refs)


def _seam_along(made: OnEdges, kind: str) -> Seam:
    """Return the seam of a drafted piece to the pieces it lies along."""
    back = runs_back(made.strip.runs)
    b = [EdgeRef(made.piece.name, n, back) for edges in made.edges for n in edges]
    own = tuple(b[::-1] if back else b)
    return Seam(name=f"{made.piece.name} seam", a=refs_along(made.strip.runs), b=own, kind=kind)


def _seams_between(pattern: Pattern, made: Sequence[OnEdges], kind: str) -> Iterator[Seam]:
    """Yield the seams of drafted pieces where those of the pieces they lie along end."""
    owners = [(m, run) for m in made for run in m.strip.runs]
    for joint in run_joints(pattern, [run for _, run in owners]):
        a, b = (_end_ref(*owners[end.run], end) for end in (joint.a, joint.b))
        if a is not None and b is not None:
            yield Seam(name=f"{joint.seam.name} {kind}", a=(a,), b=(b,))


def _end_ref(made: OnEdges, run: SewnRun, end: RunEnd) -> EdgeRef | None:
    """Return the end of a drafted piece beside an end of a run; None in the middle of it."""
    if run is not made.strip.runs[-1 if end.after else 0]:
        return None
    edge = made.piece.edges[-3 if end.after else -1]
    return EdgeRef(made.piece.name, edge.name, end.ref.reversed != run.turned)
